-- The service desk is told that a dealer sent a photograph of a proof of sale, which somebody has to read.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'wrong-pack-came', 'decided', 'sent-back', 'carried-out', 'credited', 'safety', 'danger-raised',
  'lapse-proposed', 'quarantine-overdue', 'set-held-back', 'incident-call', 'question-overdue', 'help', 'solved', 'lapsed', 'merged',
  'old-pack', 'objected', 'cover-anew', 'readings-came', 'proof-sent'));
