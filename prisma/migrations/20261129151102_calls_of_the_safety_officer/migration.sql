-- CreateTable
CREATE TABLE "IncidentPage" (
    "id" UUID NOT NULL,
    "incidentId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "pagedAt" TIMESTAMPTZ(3) NOT NULL,
    "hookState" TEXT NOT NULL,
    "hookAttempts" INTEGER NOT NULL DEFAULT 0,
    "nextAttemptAt" TIMESTAMPTZ(3),
    "lastProblem" TEXT,

    CONSTRAINT "IncidentPage_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "IncidentPage_hookState_nextAttemptAt_idx" ON "IncidentPage"("hookState", "nextAttemptAt");

-- CreateIndex
CREATE UNIQUE INDEX "IncidentPage_incidentId_number_key" ON "IncidentPage"("incidentId", "number");

-- AddForeignKey
ALTER TABLE "IncidentPage" ADD CONSTRAINT "IncidentPage_incidentId_fkey" FOREIGN KEY ("incidentId") REFERENCES "Incident"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "IncidentPage"
  ADD CONSTRAINT "IncidentPage_number" CHECK ("number" >= 1 AND "hookAttempts" >= 0),
  ADD CONSTRAINT "IncidentPage_hook" CHECK ("hookState" IN ('none', 'waiting', 'sent', 'failed')
    AND ("hookState" = 'waiting') = ("nextAttemptAt" IS NOT NULL));

ALTER TABLE "IncidentEntry" DROP CONSTRAINT "IncidentEntry_kind";
ALTER TABLE "IncidentEntry" ADD CONSTRAINT "IncidentEntry_kind" CHECK (
  "kind" IN ('knowledge', 'flags', 'place', 'checklist', 'pattern', 'determination', 'decision', 'closed', 'acknowledged'));

ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'decided', 'sent-back', 'credited', 'safety', 'lapse-proposed', 'quarantine-overdue',
  'incident-call'));

-- Only the program calls; those who answer for incidents see how often.
GRANT SELECT ON "IncidentPage" TO bench_actor;
ALTER TABLE "IncidentPage" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "IncidentPage" FORCE ROW LEVEL SECURITY;
CREATE POLICY "called_by_the_system" ON "IncidentPage" USING (bench_role() = 'system') WITH CHECK (bench_role() = 'system');
CREATE POLICY "read_by_those_who_answer" ON "IncidentPage" FOR SELECT
  USING (bench_role() IN ('service-lead', 'manager', 'safety-officer'));
