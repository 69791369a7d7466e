-- CreateTable
CREATE TABLE "OldPackOrder" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "order" TEXT NOT NULL,
    "dueOn" DATE NOT NULL,
    "why" TEXT NOT NULL,
    "orderedAt" TIMESTAMPTZ(3) NOT NULL,
    "orderedByUserId" TEXT NOT NULL,
    "orderedByName" TEXT NOT NULL,

    CONSTRAINT "OldPackOrder_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "OldPackOrder_returnId_idx" ON "OldPackOrder"("returnId");

-- AddForeignKey
ALTER TABLE "OldPackOrder" ADD CONSTRAINT "OldPackOrder_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "OldPackOrder" ADD CONSTRAINT "OldPackOrder_values" CHECK ("order" IN ('send-in', 'recycle-there') AND char_length("why") >= 3);
CREATE TRIGGER "OldPackOrder_written_once" BEFORE UPDATE OR DELETE ON "OldPackOrder"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
ALTER TABLE "OldPackOrder" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "OldPackOrder" FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT ON "OldPackOrder" TO bench_actor;
CREATE POLICY "read_with_its_return" ON "OldPackOrder" FOR SELECT
  USING (bench_role() = 'system' OR EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "OldPackOrder"."returnId"));
CREATE POLICY "ordered_by_service" ON "OldPackOrder" FOR INSERT
  WITH CHECK (bench_role() IN ('technician', 'service-lead', 'system'));

ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'decided', 'sent-back', 'carried-out', 'credited', 'safety', 'danger-raised',
  'lapse-proposed', 'quarantine-overdue', 'incident-call', 'question-overdue', 'help', 'solved', 'lapsed', 'merged',
  'old-pack', 'objected'));
