-- AlterTable
ALTER TABLE "PackLot" ADD COLUMN     "fittedOn" DATE,
ADD COLUMN     "removedOn" DATE;

-- CreateTable
CREATE TABLE "PartReceipt" (
    "id" UUID NOT NULL,
    "lotId" UUID NOT NULL,
    "quantity" INTEGER NOT NULL,
    "receivedAt" TIMESTAMPTZ(3) NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,

    CONSTRAINT "PartReceipt_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "WorkEntry" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "decisionId" UUID NOT NULL,
    "packId" UUID NOT NULL,
    "operation" TEXT NOT NULL,
    "lotId" UUID,
    "identity" TEXT,
    "firmware" TEXT,
    "groups" INTEGER[],
    "resistanceMilliohm" DOUBLE PRECISION[],
    "minutes" INTEGER NOT NULL,
    "note" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "WorkEntry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "WorkStrike" (
    "entryId" UUID NOT NULL,
    "because" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "WorkStrike_pkey" PRIMARY KEY ("entryId")
);

-- CreateTable
CREATE TABLE "PackRelease" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "decisionId" UUID NOT NULL,
    "signature" TEXT NOT NULL,
    "resultIds" TEXT[],
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "PackRelease_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "PartReceipt_lotId_idx" ON "PartReceipt"("lotId");

-- CreateIndex
CREATE INDEX "WorkEntry_returnId_idx" ON "WorkEntry"("returnId");

-- CreateIndex
CREATE INDEX "WorkEntry_decisionId_idx" ON "WorkEntry"("decisionId");

-- CreateIndex
CREATE INDEX "WorkEntry_packId_idx" ON "WorkEntry"("packId");

-- CreateIndex
CREATE INDEX "WorkEntry_lotId_idx" ON "WorkEntry"("lotId");

-- CreateIndex
CREATE UNIQUE INDEX "PackRelease_decisionId_key" ON "PackRelease"("decisionId");

-- CreateIndex
CREATE INDEX "PackRelease_returnId_idx" ON "PackRelease"("returnId");

-- AddForeignKey
ALTER TABLE "PartReceipt" ADD CONSTRAINT "PartReceipt_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "Lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "WorkEntry" ADD CONSTRAINT "WorkEntry_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "WorkEntry" ADD CONSTRAINT "WorkEntry_decisionId_fkey" FOREIGN KEY ("decisionId") REFERENCES "Decision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "WorkEntry" ADD CONSTRAINT "WorkEntry_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "WorkEntry" ADD CONSTRAINT "WorkEntry_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "Lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "WorkStrike" ADD CONSTRAINT "WorkStrike_entryId_fkey" FOREIGN KEY ("entryId") REFERENCES "WorkEntry"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PackRelease" ADD CONSTRAINT "PackRelease_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PackRelease" ADD CONSTRAINT "PackRelease_decisionId_fkey" FOREIGN KEY ("decisionId") REFERENCES "Decision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- Checks
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "Lot" DROP CONSTRAINT "Lot_kind";
ALTER TABLE "Lot" ADD CONSTRAINT "Lot_kind" CHECK (
  "kind" IN ('cell', 'joining', 'potting', 'board', 'lead', 'harness', 'sensor', 'switch'));
ALTER TABLE "PackLot" ADD CONSTRAINT "PackLot_days" CHECK (
  "removedOn" IS NULL OR "fittedOn" IS NULL OR "removedOn" >= "fittedOn");
ALTER TABLE "PartReceipt" ADD CONSTRAINT "PartReceipt_quantity" CHECK ("quantity" BETWEEN 1 AND 100000);
ALTER TABLE "WorkEntry" ADD CONSTRAINT "WorkEntry_values" CHECK (
  "minutes" BETWEEN 1 AND 6000 AND length("note") >= 3
  AND (cardinality("resistanceMilliohm") = 0 OR cardinality("resistanceMilliohm") = cardinality("groups")));
ALTER TABLE "WorkStrike" ADD CONSTRAINT "WorkStrike_because" CHECK (length("because") >= 3);
ALTER TABLE "PackRelease" ADD CONSTRAINT "PackRelease_words" CHECK (
  length("signature") >= 3 AND cardinality("resultIds") >= 1);

-- Nobody releases what they worked on themselves: the last line of defence of the rule in lib/repair.
CREATE FUNCTION "refuse_own_release"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM "WorkEntry" w WHERE w."decisionId" = NEW."decisionId" AND w."byUserId" = NEW."byUserId"
    AND NOT EXISTS (SELECT 1 FROM "WorkStrike" s WHERE s."entryId" = w."id")) THEN
    RAISE EXCEPTION 'nobody releases a pack they worked on themselves' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "PackRelease_by_another" BEFORE INSERT ON "PackRelease"
  FOR EACH ROW EXECUTE FUNCTION "refuse_own_release"();

-- ---------------------------------------------------------------------------------------------------------------
-- Written once
-- ---------------------------------------------------------------------------------------------------------------
DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['PartReceipt', 'WorkEntry', 'WorkStrike', 'PackRelease']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION "refuse_change"()',
      t || '_written_once', t);
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
  END LOOP;
  -- How a pack is worked on is the bench's own, like how it was built.
  FOREACH t IN ARRAY ARRAY['PartReceipt', 'WorkEntry', 'WorkStrike']
  LOOP
    EXECUTE format('CREATE POLICY "house" ON %I USING (bench_sees_build()) WITH CHECK (bench_sees_build())', t);
  END LOOP;
END $$;

-- That a pack is released is the dealer's to know, who waits for it.
CREATE POLICY "read_with_its_return" ON "PackRelease" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackRelease"."returnId"));
CREATE POLICY "released_by_house" ON "PackRelease" FOR INSERT WITH CHECK (bench_sees_build());

GRANT SELECT, INSERT ON "PartReceipt", "WorkEntry", "WorkStrike", "PackRelease" TO bench_actor;
GRANT INSERT ON "Lot", "PackLot" TO bench_actor;
GRANT UPDATE ("fittedOn", "removedOn") ON "PackLot" TO bench_actor;
