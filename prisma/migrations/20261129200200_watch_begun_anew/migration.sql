-- CreateTable
CREATE TABLE "WatchRestart" (
    "id" UUID NOT NULL,
    "arrivalId" UUID NOT NULL,
    "afterAlarm" BOOLEAN NOT NULL,
    "reason" TEXT NOT NULL,
    "restartedAt" TIMESTAMPTZ(3) NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,

    CONSTRAINT "WatchRestart_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "WatchRestart_arrivalId_idx" ON "WatchRestart"("arrivalId");

-- AddForeignKey
ALTER TABLE "WatchRestart" ADD CONSTRAINT "WatchRestart_arrivalId_fkey" FOREIGN KEY ("arrivalId") REFERENCES "Arrival"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "WatchRestart" ADD CONSTRAINT "WatchRestart_reason" CHECK (length(trim("reason")) BETWEEN 10 AND 2000);
CREATE TRIGGER "WatchRestart_written_once" BEFORE UPDATE OR DELETE ON "WatchRestart"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();

-- The bench's own; what an alarm meant is the safety officer's to say.
GRANT SELECT, INSERT ON "WatchRestart" TO bench_actor;
ALTER TABLE "WatchRestart" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "WatchRestart" FORCE ROW LEVEL SECURITY;
CREATE POLICY "house" ON "WatchRestart" FOR SELECT USING (bench_sees_build());
CREATE POLICY "alarm_judged_by_safety" ON "WatchRestart" FOR INSERT
  WITH CHECK (bench_sees_build() AND (NOT "afterAlarm" OR bench_keeps_safety()));
