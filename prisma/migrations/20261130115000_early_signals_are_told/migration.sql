-- Managers and the safety officer are told of a group of which an early signal is kept for the first time.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'wrong-pack-came', 'wait-to-send', 'class-needed', 'decided', 'sent-back', 'carried-out',
  'credited', 'safety', 'danger-raised', 'lapse-proposed', 'quarantine-overdue', 'set-held-back', 'own-held-back', 'stop-opened',
  'early-signal', 'incident-call', 'question-overdue', 'help', 'solved', 'lapsed', 'merged', 'old-pack', 'comes-back',
  'comes-back-overdue', 'objected', 'cover-anew', 'readings-came', 'proof-sent'));
