-- CreateTable
CREATE TABLE "ThresholdVersion" (
    "id" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "version" TEXT NOT NULL,
    "validFrom" DATE NOT NULL,
    "thresholds" JSONB NOT NULL,
    "why" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'proposed',
    "proposedByUserId" TEXT NOT NULL,
    "proposedByName" TEXT NOT NULL,
    "proposedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "settledByUserId" TEXT,
    "settledByName" TEXT,
    "settledAt" TIMESTAMPTZ(3),

    CONSTRAINT "ThresholdVersion_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "ThresholdVersion_version_key" ON "ThresholdVersion"("version");

-- CreateIndex
CREATE INDEX "ThresholdVersion_modelId_validFrom_idx" ON "ThresholdVersion"("modelId", "validFrom");

-- AddForeignKey
ALTER TABLE "ThresholdVersion" ADD CONSTRAINT "ThresholdVersion_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "PackModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "ThresholdVersion"
  ADD CONSTRAINT "ThresholdVersion_thresholds" CHECK (jsonb_typeof("thresholds") = 'object'),
  ADD CONSTRAINT "ThresholdVersion_state" CHECK ("state" IN ('proposed', 'approved', 'dropped')),
  ADD CONSTRAINT "ThresholdVersion_two_people" CHECK (
    ("state" = 'proposed') = ("settledAt" IS NULL)
    AND ("state" = 'proposed' OR ("settledByUserId" IS NOT NULL AND "settledByName" IS NOT NULL
      AND ("state" = 'dropped' OR "settledByUserId" <> "proposedByUserId"))));
CREATE UNIQUE INDEX "ThresholdVersion_one_approved_a_day" ON "ThresholdVersion" ("modelId", "validFrom") WHERE "state" = 'approved';
-- A version says all thresholds of its model: two open at once would undo each other.
CREATE UNIQUE INDEX "ThresholdVersion_one_proposal_a_model" ON "ThresholdVersion" ("modelId") WHERE "state" = 'proposed';

CREATE TRIGGER "ThresholdVersion_never_edited" BEFORE UPDATE OR DELETE ON "ThresholdVersion"
  FOR EACH ROW EXECUTE FUNCTION "refuse_proposal_edit"();
ALTER TABLE "ThresholdVersion" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "ThresholdVersion" FORCE ROW LEVEL SECURITY;
CREATE POLICY "approved_for_all" ON "ThresholdVersion" FOR SELECT USING ("state" = 'approved' OR bench_sees_build());
CREATE POLICY "proposed_by_lead_or_manager" ON "ThresholdVersion" FOR INSERT WITH CHECK (
  bench_role() = 'system' OR (bench_role() IN ('service-lead', 'manager') AND "state" = 'proposed'));
CREATE POLICY "settled_by_managers" ON "ThresholdVersion" FOR UPDATE
  USING (bench_role() IN ('manager', 'system')) WITH CHECK (bench_role() IN ('manager', 'system'));
GRANT SELECT, INSERT ON "ThresholdVersion" TO bench_actor;
GRANT UPDATE ("state", "settledByUserId", "settledByName", "settledAt") ON "ThresholdVersion" TO bench_actor;
