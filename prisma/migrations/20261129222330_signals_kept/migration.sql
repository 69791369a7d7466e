-- CreateTable
CREATE TABLE "SignalRound" (
    "id" UUID NOT NULL,
    "dataDate" DATE NOT NULL,
    "watchedGroups" INTEGER NOT NULL,
    "sharedOver" INTEGER NOT NULL,
    "countingRules" TEXT NOT NULL,
    "signalRules" TEXT NOT NULL,
    "lookedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SignalRound_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SignalAlarm" (
    "id" UUID NOT NULL,
    "roundId" UUID NOT NULL,
    "by" TEXT NOT NULL,
    "group" TEXT NOT NULL,
    "stratum" TEXT NOT NULL,
    "fault" TEXT NOT NULL DEFAULT '',
    "observed" INTEGER NOT NULL,
    "expected" DOUBLE PRECISION NOT NULL,
    "baseline" DOUBLE PRECISION NOT NULL,
    "evidence" DOUBLE PRECISION NOT NULL,
    "threshold" DOUBLE PRECISION NOT NULL,
    "countedFromDays" INTEGER NOT NULL,
    "countedUpToDays" INTEGER NOT NULL,
    "signalRules" TEXT NOT NULL,

    CONSTRAINT "SignalAlarm_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "SignalRound_dataDate_key" ON "SignalRound"("dataDate");

-- CreateIndex
CREATE INDEX "SignalAlarm_roundId_idx" ON "SignalAlarm"("roundId");

-- CreateIndex
CREATE UNIQUE INDEX "SignalAlarm_by_group_stratum_fault_signalRules_key" ON "SignalAlarm"("by", "group", "stratum", "fault", "signalRules");

-- AddForeignKey
ALTER TABLE "SignalAlarm" ADD CONSTRAINT "SignalAlarm_roundId_fkey" FOREIGN KEY ("roundId") REFERENCES "SignalRound"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "SignalRound" ADD CONSTRAINT "SignalRound_values" CHECK ("watchedGroups" >= 0 AND "sharedOver" >= "watchedGroups");
ALTER TABLE "SignalAlarm" ADD CONSTRAINT "SignalAlarm_values" CHECK ("observed" >= 2 AND "expected" > 0 AND "baseline" > 0
  AND "evidence" >= "threshold" AND "countedFromDays" >= 0 AND "countedUpToDays" >= "countedFromDays");

-- Written once, by the round of the calendar: a signal must not vanish when the numbers move.
DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['SignalRound', 'SignalAlarm']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION "refuse_change"()',
      t || '_written_once', t);
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
    EXECUTE format('CREATE POLICY "read_by_managers" ON %I FOR SELECT USING (bench_role() IN (''manager'', ''system''))', t);
    EXECUTE format('CREATE POLICY "written_by_the_program" ON %I FOR INSERT WITH CHECK (bench_role() = ''system'')', t);
  END LOOP;
END $$;
GRANT SELECT ON "SignalRound", "SignalAlarm" TO bench_actor;
