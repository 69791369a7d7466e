-- AlterTable
ALTER TABLE "IncidentEntry" ADD COLUMN     "form" TEXT,
ADD COLUMN     "hash" TEXT,
ADD COLUMN     "previousHash" TEXT;

-- AlterTable
ALTER TABLE "SettlementMove" ADD COLUMN     "form" TEXT,
ADD COLUMN     "hash" TEXT,
ADD COLUMN     "previousHash" TEXT;

-- CreateTable
CREATE TABLE "ChainMark" (
    "chain" TEXT NOT NULL,
    "lastHash" TEXT NOT NULL,
    "rows" INTEGER NOT NULL,

    CONSTRAINT "ChainMark_pkey" PRIMARY KEY ("chain")
);

-- What was written before stays as it is, unchained; nothing new is.
ALTER TABLE "IncidentEntry" ADD CONSTRAINT "IncidentEntry_chained"
  CHECK ("form" IS NOT NULL AND "previousHash" IS NOT NULL AND "hash" ~ '^[0-9a-f]{64}$') NOT VALID;
ALTER TABLE "SettlementMove" ADD CONSTRAINT "SettlementMove_chained"
  CHECK ("form" IS NOT NULL AND "previousHash" IS NOT NULL AND "hash" ~ '^[0-9a-f]{64}$') NOT VALID;

ALTER TABLE "ChainMark" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "ChainMark" FORCE ROW LEVEL SECURITY;
GRANT SELECT ON "ChainMark" TO bench_actor;
CREATE POLICY "kept_by_the_system" ON "ChainMark" USING (bench_role() = 'system') WITH CHECK (bench_role() = 'system');

-- The mark outside a chain. Whoever writes a row may not be able to read the ones before, so it speaks as the system.
CREATE FUNCTION "mark_chain"() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  asked_by text := bench_role();
BEGIN
  PERFORM set_config('bench.role', 'system', true);
  INSERT INTO "ChainMark" ("chain", "lastHash", "rows")
    VALUES (TG_ARGV[0] || ' ' || (to_jsonb(NEW) ->> TG_ARGV[1]), NEW."hash", 1)
    ON CONFLICT ("chain") DO UPDATE SET "lastHash" = EXCLUDED."lastHash", "rows" = "ChainMark"."rows" + 1;
  PERFORM set_config('bench.role', asked_by, true);
  RETURN NULL;
END $$;
CREATE TRIGGER "IncidentEntry_marked" AFTER INSERT ON "IncidentEntry"
  FOR EACH ROW EXECUTE FUNCTION "mark_chain"('incident', 'incidentId');
CREATE TRIGGER "SettlementMove_marked" AFTER INSERT ON "SettlementMove"
  FOR EACH ROW EXECUTE FUNCTION "mark_chain"('line', 'lineId');
