-- The dealer hears that a specialist took a dangerous pack away.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'wrong-pack-came', 'collected', 'wait-to-send', 'class-needed', 'class-proposed', 'decided', 'sent-back',
  'carried-out', 'credited', 'safety', 'danger-raised', 'lapse-proposed', 'quarantine-overdue', 'measurement-overdue',
  'set-held-back', 'own-held-back', 'stop-opened', 'early-signal', 'incident-call', 'question-overdue', 'help', 'solved', 'lapsed',
  'merged', 'old-pack', 'comes-back', 'comes-back-overdue', 'your-turn', 'refund-to-pay', 'second-needed', 'objected',
  'cover-anew', 'readings-came', 'proof-sent', 'emergency-look'));
