-- What a customer was given before and gives back is ordered like an old pack: with a day, a letter and an end.
ALTER TABLE "Decision" ADD COLUMN "comesBackBy" DATE, ADD COLUMN "comesBackWhat" TEXT;
ALTER TABLE "OldPackOrder" ADD COLUMN "about" TEXT NOT NULL DEFAULT 'old-pack', ALTER COLUMN "dueOn" DROP NOT NULL;

ALTER TABLE "Decision" ADD CONSTRAINT "Decision_what_comes_back"
  CHECK (("comesBackWhat" IS NULL AND "comesBackBy" IS NULL)
    OR ("comesBackWhat" = 'comes-back' AND "comesBack" IS NOT NULL AND "comesBackBy" IS NOT NULL)
    OR ("comesBackWhat" = 'nothing-comes-back' AND "comesBack" IS NOT NULL AND "comesBackBy" IS NULL));
ALTER TABLE "OldPackOrder" DROP CONSTRAINT "OldPackOrder_values";
ALTER TABLE "OldPackOrder" ADD CONSTRAINT "OldPackOrder_values" CHECK (char_length("why") >= 3 AND (
  ("about" = 'old-pack' AND "order" IN ('send-in', 'recycle-there') AND "dueOn" IS NOT NULL)
  OR ("about" = 'given-before' AND "order" IN ('comes-back', 'nothing-comes-back', 'is-back')
    AND ("order" = 'comes-back') = ("dueOn" IS NOT NULL))));

-- What comes back is settled by those who decide and by those who take money and packs back.
DROP POLICY "ordered_by_service" ON "OldPackOrder";
CREATE POLICY "ordered_by_service" ON "OldPackOrder" FOR INSERT
  WITH CHECK (bench_role() IN ('technician', 'service-lead', 'system')
    OR ("about" = 'given-before' AND bench_role() IN ('manager', 'finance')));

ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'wrong-pack-came', 'decided', 'sent-back', 'carried-out', 'credited', 'safety', 'danger-raised',
  'lapse-proposed', 'quarantine-overdue', 'set-held-back', 'own-held-back', 'incident-call', 'question-overdue', 'help', 'solved',
  'lapsed', 'merged', 'old-pack', 'comes-back', 'comes-back-overdue', 'objected', 'cover-anew', 'readings-came', 'proof-sent'));
