-- The dealer photographs what the complaint is about, and sees that of the own returns again.
DROP POLICY "box_and_proof_of_its_dealer" ON "PackPhoto";
CREATE POLICY "box_proof_and_complaint_of_its_dealer" ON "PackPhoto"
  USING ("view" IN ('packed-open', 'packed-closed', 'proof-of-sale', 'told-label', 'told-display', 'told-case', 'told-connector')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer()))
  WITH CHECK ("view" IN ('packed-open', 'packed-closed', 'proof-of-sale', 'told-label', 'told-display', 'told-case', 'told-connector')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer()));
