-- A pack that was sent in place of another and comes back travels under a class of its own. Nobody measured it since it left,
-- so it never travels as sound; the dealer who has it packs it, ticks and photographs.
ALTER TABLE "ClassDeclaration"
  DROP CONSTRAINT "ClassDeclaration_leg",
  DROP CONSTRAINT "ClassDeclaration_stock_pack",
  ADD CONSTRAINT "ClassDeclaration_leg" CHECK ("leg" IN ('to-maker', 'to-dealer', 'unit-to-maker', 'to-supplier')),
  ADD CONSTRAINT "ClassDeclaration_stock_pack" CHECK ("stockPackId" IS NULL OR "leg" IN ('to-dealer', 'unit-to-maker')),
  ADD CONSTRAINT "ClassDeclaration_unit_back_never_sound" CHECK ("leg" <> 'unit-to-maker'
    OR ("stockPackId" IS NOT NULL AND "transportClass" <> 'not-damaged'));

DROP POLICY "ticked_by_whoever_packs" ON "PackingCheck";
CREATE POLICY "ticked_by_whoever_packs" ON "PackingCheck" FOR INSERT WITH CHECK (
  bench_role() = 'system' OR EXISTS (
    SELECT 1 FROM "ClassDeclaration" d JOIN "Return" r ON r."id" = d."returnId"
    WHERE d."id" = "PackingCheck"."declarationId"
      AND ((d."leg" IN ('to-maker', 'unit-to-maker') AND r."dealerId" = bench_dealer())
        OR (d."leg" NOT IN ('to-maker', 'unit-to-maker') AND bench_role() IN ('technician', 'service-lead')))));

DROP POLICY "box_proof_and_complaint_of_its_dealer" ON "PackPhoto";
CREATE POLICY "box_proof_and_complaint_of_its_dealer" ON "PackPhoto"
  USING ("view" IN ('packed-open', 'packed-closed', 'proof-of-sale', 'told-label', 'told-display', 'told-case', 'told-connector')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer()))
  WITH CHECK ("view" IN ('packed-open', 'packed-closed', 'proof-of-sale', 'told-label', 'told-display', 'told-case', 'told-connector')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer())
    AND ("declarationId" IS NULL OR EXISTS (SELECT 1 FROM "ClassDeclaration" d
      WHERE d."id" = "PackPhoto"."declarationId" AND d."returnId" = "PackPhoto"."returnId"
        AND d."leg" IN ('to-maker', 'unit-to-maker'))));
