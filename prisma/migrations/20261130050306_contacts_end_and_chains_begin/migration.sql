-- CreateTable
CREATE TABLE "SafetyContactEvent" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SafetyContactEvent_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ChainBeginning" (
    "kind" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "unchained" INTEGER NOT NULL,

    CONSTRAINT "ChainBeginning_pkey" PRIMARY KEY ("kind")
);

-- CreateIndex
CREATE INDEX "SafetyContactEvent_returnId_idx" ON "SafetyContactEvent"("returnId");

-- AddForeignKey
ALTER TABLE "SafetyContactEvent" ADD CONSTRAINT "SafetyContactEvent_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "SafetyContact"("returnId") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- What became of a customer's contact, never the contact itself
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "SafetyContactEvent"
  ADD CONSTRAINT "SafetyContactEvent_kind" CHECK ("kind" IN ('given', 'added-beside', 'replaced', 'erased', 'ended'));
ALTER TABLE "SafetyContactEvent" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "SafetyContactEvent" FORCE ROW LEVEL SECURITY;
CREATE TRIGGER "SafetyContactEvent_written_once" BEFORE UPDATE OR DELETE ON "SafetyContactEvent"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
GRANT SELECT, INSERT ON "SafetyContactEvent" TO bench_actor;
CREATE POLICY "read_by_dealer_and_those_in_charge" ON "SafetyContactEvent" FOR SELECT
  USING (bench_role() IN ('service-lead', 'manager', 'safety-officer', 'system') OR EXISTS (
    SELECT 1 FROM "Return" r WHERE r."id" = "SafetyContactEvent"."returnId" AND r."dealerId" = bench_dealer()));
CREATE POLICY "left_by_its_dealer" ON "SafetyContactEvent" FOR INSERT
  WITH CHECK (bench_role() = 'system' OR EXISTS (
    SELECT 1 FROM "Return" r WHERE r."id" = "SafetyContactEvent"."returnId" AND r."dealerId" = bench_dealer()));

-- ---------------------------------------------------------------------------------------------------------------
-- When the chains of incidents and of money began, with how many rows before. Nobody changes it.
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "ChainBeginning" ADD CONSTRAINT "ChainBeginning_kind" CHECK ("kind" IN ('incident', 'line') AND "unchained" >= 0);
ALTER TABLE "ChainBeginning" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "ChainBeginning" FORCE ROW LEVEL SECURITY;
CREATE TRIGGER "ChainBeginning_written_once" BEFORE UPDATE OR DELETE ON "ChainBeginning"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
GRANT SELECT ON "ChainBeginning" TO bench_actor;
CREATE POLICY "kept_by_the_system" ON "ChainBeginning" USING (bench_role() = 'system') WITH CHECK (bench_role() = 'system');
SELECT set_config('bench.role', 'system', false);
INSERT INTO "ChainBeginning" ("kind", "at", "unchained") VALUES
  ('incident', now(), (SELECT count(*) FROM "IncidentEntry" WHERE "hash" IS NULL)),
  ('line', now(), (SELECT count(*) FROM "SettlementMove" WHERE "hash" IS NULL));
SELECT set_config('bench.role', '', false);

-- ---------------------------------------------------------------------------------------------------------------
-- A set names its packs in the transaction that makes it, and never one more.
-- ---------------------------------------------------------------------------------------------------------------
CREATE FUNCTION "refuse_later_pack"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM "AffectedSet" s WHERE s."id" = NEW."setId" AND s.xmin = pg_current_xact_id()::xid) THEN
    RAISE EXCEPTION 'a set of affected packs names its packs once, when it is made'
      USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "AffectedSetPack_named_once" BEFORE INSERT ON "AffectedSetPack"
  FOR EACH ROW EXECUTE FUNCTION "refuse_later_pack"();
