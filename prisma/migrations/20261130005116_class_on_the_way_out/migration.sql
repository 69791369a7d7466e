-- DropIndex
DROP INDEX "ClassDeclaration_returnId_sequence_key";

-- AlterTable
ALTER TABLE "ClassDeclaration" ADD COLUMN     "consignee" TEXT,
ADD COLUMN     "leg" TEXT NOT NULL DEFAULT 'to-maker',
ADD COLUMN     "stockPackId" UUID;

-- CreateIndex
CREATE INDEX "ClassDeclaration_stockPackId_idx" ON "ClassDeclaration"("stockPackId");

-- CreateIndex
CREATE UNIQUE INDEX "ClassDeclaration_returnId_leg_sequence_key" ON "ClassDeclaration"("returnId", "leg", "sequence");

-- AddForeignKey
ALTER TABLE "ClassDeclaration" ADD CONSTRAINT "ClassDeclaration_stockPackId_fkey" FOREIGN KEY ("stockPackId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "ClassDeclaration"
  ADD CONSTRAINT "ClassDeclaration_leg" CHECK ("leg" IN ('to-maker', 'to-dealer', 'to-supplier')),
  ADD CONSTRAINT "ClassDeclaration_stock_pack" CHECK ("stockPackId" IS NULL OR "leg" = 'to-dealer'),
  ADD CONSTRAINT "ClassDeclaration_consignee" CHECK (("leg" = 'to-supplier') = ("consignee" IS NOT NULL)
    AND ("consignee" IS NULL OR char_length(trim("consignee")) BETWEEN 1 AND 400)),
  -- A sample goes out because something was found in it.
  ADD CONSTRAINT "ClassDeclaration_sample_never_sound" CHECK ("leg" <> 'to-supplier' OR "transportClass" <> 'not-damaged');

-- Whoever packs ticks: the dealer whose return it is on the way to us, the bench on the ways out.
DROP POLICY "ticked_by_its_dealer" ON "PackingCheck";
CREATE POLICY "ticked_by_whoever_packs" ON "PackingCheck" FOR INSERT WITH CHECK (
  bench_role() = 'system' OR EXISTS (
    SELECT 1 FROM "ClassDeclaration" d JOIN "Return" r ON r."id" = d."returnId"
    WHERE d."id" = "PackingCheck"."declarationId"
      AND ((d."leg" = 'to-maker' AND r."dealerId" = bench_dealer())
        OR (d."leg" <> 'to-maker' AND bench_role() IN ('technician', 'service-lead')))));
