-- What comes back of an earlier remedy of the same complaint, where more is decided beside it.
-- AlterTable
ALTER TABLE "Decision" ADD COLUMN     "comesBack" TEXT;

-- The place of a pack that is sent in place of a returned one is followed too: whoever hands it over writes that down.
DROP POLICY "with_its_return" ON "Track";
CREATE POLICY "with_its_return" ON "Track"
  USING (bench_sees_all()
    OR ("track" = 'safety' AND bench_role() = 'administrator')
    OR ("track" <> 'hold' AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "Track"."returnId" OR r."packId" = "Track"."packId"))
    OR ("track" = 'custody' AND EXISTS (SELECT 1 FROM "UnitReservation" u WHERE u."packId" = "Track"."packId" AND u."ending" IS DISTINCT FROM 'given-up')))
  WITH CHECK (bench_sees_all()
    OR ("track" = 'safety' AND bench_role() = 'administrator')
    OR ("track" <> 'hold' AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "Track"."returnId" OR r."packId" = "Track"."packId"))
    OR ("track" = 'custody' AND EXISTS (SELECT 1 FROM "UnitReservation" u WHERE u."packId" = "Track"."packId" AND u."ending" IS DISTINCT FROM 'given-up')));
