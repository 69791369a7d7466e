-- CreateTable
CREATE TABLE "EarlierCover" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "outcome" TEXT NOT NULL,
    "startsOn" DATE,
    "endsOn" DATE,
    "evidence" TEXT,
    "policyVersion" TEXT NOT NULL,
    "because" TEXT[],
    "facts" JSONB,
    "rulesVersion" TEXT,
    "provenSoldOn" DATE NOT NULL,
    "proofId" UUID NOT NULL,
    "why" TEXT NOT NULL,
    "replacedAt" TIMESTAMPTZ(3) NOT NULL,
    "replacedByUserId" TEXT NOT NULL,
    "replacedByName" TEXT NOT NULL,

    CONSTRAINT "EarlierCover_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "EarlierCover_proofId_key" ON "EarlierCover"("proofId");

-- CreateIndex
CREATE UNIQUE INDEX "EarlierCover_returnId_number_key" ON "EarlierCover"("returnId", "number");

-- AddForeignKey
ALTER TABLE "EarlierCover" ADD CONSTRAINT "EarlierCover_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "EarlierCover" ADD CONSTRAINT "EarlierCover_proofId_fkey" FOREIGN KEY ("proofId") REFERENCES "PackPhoto"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "EarlierCover" ADD CONSTRAINT "EarlierCover_values" CHECK ("number" >= 1 AND char_length("why") >= 1);
CREATE TRIGGER "EarlierCover_written_once" BEFORE UPDATE OR DELETE ON "EarlierCover"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
ALTER TABLE "EarlierCover" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "EarlierCover" FORCE ROW LEVEL SECURITY;
GRANT SELECT ON "EarlierCover" TO bench_actor;
CREATE POLICY "read_with_its_return" ON "EarlierCover" FOR SELECT
  USING (bench_role() = 'system' OR EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "EarlierCover"."returnId"));
CREATE POLICY "written_by_the_program" ON "EarlierCover" FOR INSERT WITH CHECK (bench_role() = 'system');

-- The dealer photographs the proof of sale too, and sees that of the own returns again.
DROP POLICY "packed_box_of_its_dealer" ON "PackPhoto";
CREATE POLICY "box_and_proof_of_its_dealer" ON "PackPhoto"
  USING ("view" IN ('packed-open', 'packed-closed', 'proof-of-sale')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer()))
  WITH CHECK ("view" IN ('packed-open', 'packed-closed', 'proof-of-sale')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer()));
