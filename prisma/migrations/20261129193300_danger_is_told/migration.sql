-- A danger told or seen after a return was sent reaches the safety officer and the service desk.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'decided', 'sent-back', 'credited', 'safety', 'danger-raised', 'lapse-proposed',
  'quarantine-overdue', 'incident-call', 'question-overdue'));
