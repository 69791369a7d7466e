-- AlterTable
ALTER TABLE "PackPhoto" ADD COLUMN     "declarationId" UUID;

-- CreateIndex
CREATE INDEX "PackPhoto_declarationId_idx" ON "PackPhoto"("declarationId");

-- AddForeignKey
ALTER TABLE "PackPhoto" ADD CONSTRAINT "PackPhoto_declarationId_fkey" FOREIGN KEY ("declarationId") REFERENCES "ClassDeclaration"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "PackPhoto" ADD CONSTRAINT "PackPhoto_box_of_a_way"
  CHECK ("declarationId" IS NULL OR "view" IN ('packed-open', 'packed-closed'));

-- Until now a box belonged to the class declared last before it was photographed: the dealer's to that of the way to us, the
-- bench's to that of a way out.
SELECT set_config('bench.role', 'system', false);
ALTER TABLE "PackPhoto" DISABLE TRIGGER "PackPhoto_written_once";
UPDATE "PackPhoto" p SET "declarationId" = (
  SELECT d."id" FROM "ClassDeclaration" d
  WHERE d."returnId" = p."returnId" AND d."declaredAt" <= p."takenAt"
    AND (d."leg" = 'to-maker') = EXISTS (SELECT 1 FROM "User" u WHERE u."id" = p."takenByUserId" AND u."dealerId" IS NOT NULL)
  ORDER BY d."declaredAt" DESC LIMIT 1)
WHERE p."view" IN ('packed-open', 'packed-closed');
ALTER TABLE "PackPhoto" ENABLE TRIGGER "PackPhoto_written_once";
SELECT set_config('bench.role', '', false);

-- A dealer photographs the box that comes to us, under the class of that way and of that return alone.
DROP POLICY "box_and_proof_of_its_dealer" ON "PackPhoto";
CREATE POLICY "box_and_proof_of_its_dealer" ON "PackPhoto"
  USING ("view" IN ('packed-open', 'packed-closed', 'proof-of-sale')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer()))
  WITH CHECK ("view" IN ('packed-open', 'packed-closed', 'proof-of-sale')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer())
    AND ("declarationId" IS NULL OR EXISTS (SELECT 1 FROM "ClassDeclaration" d
      WHERE d."id" = "PackPhoto"."declarationId" AND d."returnId" = "PackPhoto"."returnId" AND d."leg" = 'to-maker')));

-- The dealer is told that another pack came in the box.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'wrong-pack-came', 'decided', 'sent-back', 'carried-out', 'credited', 'safety', 'danger-raised',
  'lapse-proposed', 'quarantine-overdue', 'incident-call', 'question-overdue', 'help', 'solved', 'lapsed', 'merged',
  'old-pack', 'objected', 'cover-anew', 'readings-came'));
