-- A dealer is told to wait where what was declared for sending no longer counts, and the desk that a class is needed. Those in
-- charge are told of an issue under which nothing goes out.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'wrong-pack-came', 'wait-to-send', 'class-needed', 'decided', 'sent-back', 'carried-out',
  'credited', 'safety', 'danger-raised', 'lapse-proposed', 'quarantine-overdue', 'set-held-back', 'own-held-back', 'stop-opened',
  'incident-call',   'question-overdue', 'help', 'solved', 'lapsed', 'merged', 'old-pack', 'comes-back', 'comes-back-overdue', 'objected',
  'cover-anew', 'readings-came', 'proof-sent'));
