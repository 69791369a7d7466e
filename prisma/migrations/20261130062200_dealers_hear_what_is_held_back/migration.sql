-- A dealer is told that packs in stock, on loan or under a return with that dealer are held back.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'wrong-pack-came', 'decided', 'sent-back', 'carried-out', 'credited', 'safety', 'danger-raised',
  'lapse-proposed', 'quarantine-overdue', 'set-held-back', 'own-held-back', 'incident-call', 'question-overdue', 'help', 'solved',
  'lapsed', 'merged', 'old-pack', 'objected', 'cover-anew', 'readings-came', 'proof-sent'));
