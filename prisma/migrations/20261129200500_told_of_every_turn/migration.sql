-- Help from a distance, the end of a return and an objection are told too; and what is carried out without a pack coming back.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'decided', 'sent-back', 'carried-out', 'credited', 'safety', 'danger-raised',
  'lapse-proposed', 'quarantine-overdue', 'incident-call', 'question-overdue', 'help', 'solved', 'lapsed', 'merged',
  'objected'));
