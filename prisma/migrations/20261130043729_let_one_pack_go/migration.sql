-- CreateTable
CREATE TABLE "PackLetGo" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "stops" TEXT[],
    "why" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "byRole" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "PackLetGo_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "PackLetGo_returnId_idx" ON "PackLetGo"("returnId");

-- AddForeignKey
ALTER TABLE "PackLetGo" ADD CONSTRAINT "PackLetGo_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "PackLetGo" ADD CONSTRAINT "PackLetGo_why" CHECK (char_length(trim("why")) BETWEEN 10 AND 2000),
  ADD CONSTRAINT "PackLetGo_stops" CHECK (cardinality("stops") >= 1);
CREATE TRIGGER "PackLetGo_written_once" BEFORE UPDATE OR DELETE ON "PackLetGo"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
ALTER TABLE "PackLetGo" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "PackLetGo" FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT ON "PackLetGo" TO bench_actor;
-- As with a set: what holds packs back or lets them go is the manager's and the safety officer's.
CREATE POLICY "read_by_house" ON "PackLetGo" FOR SELECT USING (bench_sees_build());
CREATE POLICY "let_go" ON "PackLetGo" FOR INSERT WITH CHECK (bench_role() IN ('manager', 'safety-officer', 'system'));

-- Those who have packs in hand are told when a set is held back.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'wrong-pack-came', 'decided', 'sent-back', 'carried-out', 'credited', 'safety', 'danger-raised',
  'lapse-proposed', 'quarantine-overdue', 'set-held-back', 'incident-call', 'question-overdue', 'help', 'solved', 'lapsed', 'merged',
  'old-pack', 'objected', 'cover-anew', 'readings-came'));
