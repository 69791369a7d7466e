-- CreateTable
CREATE TABLE "UnitReservation" (
    "id" UUID NOT NULL,
    "packId" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "reservedAt" TIMESTAMPTZ(3) NOT NULL,
    "reservedByUserId" TEXT NOT NULL,
    "reservedByName" TEXT NOT NULL,
    "endedAt" TIMESTAMPTZ(3),
    "endedByUserId" TEXT,
    "endedByName" TEXT,
    "ending" TEXT,
    "endedBecause" TEXT,

    CONSTRAINT "UnitReservation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "PackLoan" (
    "id" UUID NOT NULL,
    "packId" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "lentAt" TIMESTAMPTZ(3) NOT NULL,
    "lentByUserId" TEXT NOT NULL,
    "lentByName" TEXT NOT NULL,
    "returnedAt" TIMESTAMPTZ(3),
    "returnedByUserId" TEXT,
    "returnedByName" TEXT,
    "condition" TEXT,

    CONSTRAINT "PackLoan_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "UnitReservation_packId_idx" ON "UnitReservation"("packId");

-- CreateIndex
CREATE INDEX "UnitReservation_returnId_idx" ON "UnitReservation"("returnId");

-- CreateIndex
CREATE INDEX "PackLoan_packId_idx" ON "PackLoan"("packId");

-- CreateIndex
CREATE INDEX "PackLoan_returnId_idx" ON "PackLoan"("returnId");

-- AddForeignKey
ALTER TABLE "UnitReservation" ADD CONSTRAINT "UnitReservation_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "UnitReservation" ADD CONSTRAINT "UnitReservation_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PackLoan" ADD CONSTRAINT "PackLoan_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PackLoan" ADD CONSTRAINT "PackLoan_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- Checks: a pack is kept for one return and lent to one customer at a time, and each ends once.
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "UnitReservation" ADD CONSTRAINT "UnitReservation_ending" CHECK (
  ("endedAt" IS NULL) = ("ending" IS NULL) AND ("endedAt" IS NULL) = ("endedByUserId" IS NULL)
  AND ("endedAt" IS NULL) = ("endedByName" IS NULL) AND ("endedAt" IS NULL OR "endedAt" >= "reservedAt")
  AND ("ending" IS NULL OR "ending" IN ('handed-over', 'given-up'))
  AND ("ending" IS DISTINCT FROM 'given-up' OR length("endedBecause") >= 3));
CREATE UNIQUE INDEX "UnitReservation_one_open_per_pack" ON "UnitReservation" ("packId") WHERE "endedAt" IS NULL;
CREATE UNIQUE INDEX "UnitReservation_one_open_per_return" ON "UnitReservation" ("returnId") WHERE "endedAt" IS NULL;

ALTER TABLE "PackLoan" ADD CONSTRAINT "PackLoan_ending" CHECK (
  ("returnedAt" IS NULL) = ("returnedByUserId" IS NULL) AND ("returnedAt" IS NULL) = ("returnedByName" IS NULL)
  AND ("returnedAt" IS NULL) = ("condition" IS NULL) AND ("returnedAt" IS NULL OR "returnedAt" >= "lentAt"));
CREATE UNIQUE INDEX "PackLoan_one_open_per_pack" ON "PackLoan" ("packId") WHERE "returnedAt" IS NULL;
CREATE UNIQUE INDEX "PackLoan_one_open_per_return" ON "PackLoan" ("returnId") WHERE "returnedAt" IS NULL;

CREATE FUNCTION "refuse_second_end"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR coalesce(to_jsonb(OLD) ->> 'endedAt', to_jsonb(OLD) ->> 'returnedAt') IS NOT NULL THEN
    RAISE EXCEPTION '% is written once and ends once', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "UnitReservation_ends_once" BEFORE UPDATE OR DELETE ON "UnitReservation"
  FOR EACH ROW EXECUTE FUNCTION "refuse_second_end"();
CREATE TRIGGER "PackLoan_ends_once" BEFORE UPDATE OR DELETE ON "PackLoan"
  FOR EACH ROW EXECUTE FUNCTION "refuse_second_end"();

-- ---------------------------------------------------------------------------------------------------------------
-- A chain of packs never leads back to a pack that went before, and the pack that comes has left the store. Both look
-- at rows that whoever hands a pack over may not see, so the function speaks as the system.
-- ---------------------------------------------------------------------------------------------------------------
CREATE FUNCTION "keep_chain_straight"() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  asked_by text := bench_role();
BEGIN
  PERFORM set_config('bench.role', 'system', true);
  IF EXISTS (
    WITH RECURSIVE "went" ("packId") AS (
      SELECT NEW."oldPackId"
      UNION
      SELECT r."oldPackId" FROM "Replacement" r JOIN "went" w ON r."newPackId" = w."packId")
    SELECT 1 FROM "went" WHERE "packId" = NEW."newPackId") THEN
    RAISE EXCEPTION 'a chain of replacements never leads back to a pack that went before'
      USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  UPDATE "Pack" SET "dispatchedOn" = NEW."deliveredOn", "dispatchedToId" =
      (SELECT r."dealerId" FROM "Return" r WHERE r."packId" = NEW."oldPackId" ORDER BY r."lodgedAt" DESC LIMIT 1)
    WHERE "id" = NEW."newPackId" AND "dispatchedOn" IS NULL AND "builtOn" <= NEW."deliveredOn";
  PERFORM set_config('bench.role', asked_by, true);
  RETURN NEW;
END $$;
CREATE TRIGGER "Replacement_chain_straight" BEFORE INSERT ON "Replacement"
  FOR EACH ROW EXECUTE FUNCTION "keep_chain_straight"();

-- ---------------------------------------------------------------------------------------------------------------
-- Rows written before: what somebody named as kept ready when work began is kept from now on. Row-level security is
-- forced on the owner too, so this part speaks as the system.
-- ---------------------------------------------------------------------------------------------------------------
SELECT set_config('bench.role', 'system', false);
INSERT INTO "UnitReservation" ("id", "packId", "returnId", "reservedAt", "reservedByUserId", "reservedByName")
  SELECT DISTINCT ON (p."id") gen_random_uuid(), p."id", r."id", m."at", m."actorUserId", m."actorName"
  FROM "ReturnMove" m JOIN "Return" r ON r."id" = m."returnId"
    JOIN "Decision" d ON d."id" = r."decisionId" AND d."remedy" = 'replace'
    JOIN "Pack" p ON p."serial" = m."facts" -> 'stated' ->> 'reservedSerial'
  WHERE m."move" = 'start-work' AND r."status" IN ('work-in-progress', 'ready-to-hand-back')
    AND NOT EXISTS (SELECT 1 FROM "Replacement" x WHERE x."newPackId" = p."id")
  ORDER BY p."id", m."at" DESC
  ON CONFLICT DO NOTHING;
SELECT set_config('bench.role', '', false);

-- ---------------------------------------------------------------------------------------------------------------
-- Walls. A dealer sees what is kept for and lent under its own returns; it ends a reservation by handing the pack over,
-- lends and takes back. Finance sees and changes nothing of it.
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "UnitReservation" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "UnitReservation" FORCE ROW LEVEL SECURITY;
ALTER TABLE "PackLoan" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "PackLoan" FORCE ROW LEVEL SECURITY;

GRANT SELECT, INSERT ON "UnitReservation", "PackLoan" TO bench_actor;
GRANT UPDATE ("endedAt", "endedByUserId", "endedByName", "ending", "endedBecause") ON "UnitReservation" TO bench_actor;
GRANT UPDATE ("returnedAt", "returnedByUserId", "returnedByName", "condition") ON "PackLoan" TO bench_actor;

CREATE POLICY "read_with_its_return" ON "UnitReservation" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "UnitReservation"."returnId"));
CREATE POLICY "kept_by_house" ON "UnitReservation" FOR INSERT WITH CHECK (bench_sees_build());
CREATE POLICY "ended_by_house_or_by_handing_over" ON "UnitReservation" FOR UPDATE
  USING (bench_sees_build()
    OR EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "UnitReservation"."returnId" AND r."dealerId" = bench_dealer()))
  WITH CHECK (bench_sees_build() OR "ending" = 'handed-over');

CREATE POLICY "read_with_its_return" ON "PackLoan" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackLoan"."returnId"));
CREATE POLICY "lent_by_house_or_dealer" ON "PackLoan" FOR INSERT
  WITH CHECK (bench_sees_build()
    OR EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackLoan"."returnId" AND r."dealerId" = bench_dealer()));
CREATE POLICY "taken_back_by_house_or_dealer" ON "PackLoan" FOR UPDATE
  USING (bench_sees_build()
    OR EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackLoan"."returnId" AND r."dealerId" = bench_dealer()))
  WITH CHECK (true);
