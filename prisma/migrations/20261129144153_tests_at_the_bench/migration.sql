-- CreateTable
CREATE TABLE "TestPlan" (
    "id" UUID NOT NULL,
    "scope" TEXT NOT NULL,
    "modelId" UUID NOT NULL,
    "revisionId" UUID,
    "version" INTEGER NOT NULL,
    "tests" JSONB NOT NULL,
    "why" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'proposed',
    "proposedByUserId" TEXT,
    "proposedByName" TEXT,
    "proposedAt" TIMESTAMPTZ(3) NOT NULL,
    "settledByUserId" TEXT,
    "settledByName" TEXT,
    "settledAt" TIMESTAMPTZ(3),

    CONSTRAINT "TestPlan_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Instrument" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "addedByUserId" TEXT NOT NULL,
    "addedByName" TEXT NOT NULL,
    "addedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "Instrument_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Calibration" (
    "id" UUID NOT NULL,
    "instrumentId" UUID NOT NULL,
    "outcome" TEXT NOT NULL,
    "calibratedOn" DATE NOT NULL,
    "dueOn" DATE,
    "uncertaintyPercent" DOUBLE PRECISION NOT NULL,
    "uncertaintyFloor" DOUBLE PRECISION NOT NULL,
    "certificate" TEXT NOT NULL,
    "recordedByUserId" TEXT NOT NULL,
    "recordedByName" TEXT NOT NULL,
    "recordedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "Calibration_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "TestResult" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "planId" UUID NOT NULL,
    "testKey" TEXT NOT NULL,
    "purpose" TEXT NOT NULL,
    "value" DOUBLE PRECISION,
    "unit" TEXT,
    "expandedUncertainty" DOUBLE PRECISION,
    "lower" DOUBLE PRECISION,
    "upper" DOUBLE PRECISION,
    "seen" TEXT,
    "verdict" TEXT NOT NULL,
    "calibrationId" UUID,
    "ambientC" DOUBLE PRECISION,
    "note" TEXT NOT NULL,
    "leaveToDestroy" TEXT,
    "correctsId" UUID,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "TestResult_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "TestWaiver" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "planId" UUID NOT NULL,
    "testKey" TEXT NOT NULL,
    "why" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "TestWaiver_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "FaultCoding" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "customerSaw" TEXT NOT NULL,
    "found" TEXT NOT NULL,
    "part" TEXT NOT NULL,
    "cause" TEXT NOT NULL,
    "groups" INTEGER[],
    "fault" TEXT NOT NULL,
    "howSure" TEXT NOT NULL,
    "note" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "FaultCoding_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "NoFaultEntry" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "step" TEXT,
    "outcome" TEXT,
    "note" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "NoFaultEntry_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "TestPlan_modelId_idx" ON "TestPlan"("modelId");

-- CreateIndex
CREATE INDEX "TestPlan_revisionId_idx" ON "TestPlan"("revisionId");

-- CreateIndex
CREATE UNIQUE INDEX "TestPlan_scope_version_key" ON "TestPlan"("scope", "version");

-- CreateIndex
CREATE UNIQUE INDEX "Instrument_code_key" ON "Instrument"("code");

-- CreateIndex
CREATE INDEX "Calibration_instrumentId_idx" ON "Calibration"("instrumentId");

-- CreateIndex
CREATE UNIQUE INDEX "TestResult_correctsId_key" ON "TestResult"("correctsId");

-- CreateIndex
CREATE INDEX "TestResult_returnId_idx" ON "TestResult"("returnId");

-- CreateIndex
CREATE INDEX "TestResult_planId_idx" ON "TestResult"("planId");

-- CreateIndex
CREATE INDEX "TestResult_calibrationId_idx" ON "TestResult"("calibrationId");

-- CreateIndex
CREATE INDEX "TestWaiver_returnId_idx" ON "TestWaiver"("returnId");

-- CreateIndex
CREATE INDEX "TestWaiver_planId_idx" ON "TestWaiver"("planId");

-- CreateIndex
CREATE UNIQUE INDEX "FaultCoding_returnId_version_key" ON "FaultCoding"("returnId", "version");

-- CreateIndex
CREATE INDEX "NoFaultEntry_returnId_idx" ON "NoFaultEntry"("returnId");

-- AddForeignKey
ALTER TABLE "TestPlan" ADD CONSTRAINT "TestPlan_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "PackModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestPlan" ADD CONSTRAINT "TestPlan_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "Revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Calibration" ADD CONSTRAINT "Calibration_instrumentId_fkey" FOREIGN KEY ("instrumentId") REFERENCES "Instrument"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestResult" ADD CONSTRAINT "TestResult_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestResult" ADD CONSTRAINT "TestResult_planId_fkey" FOREIGN KEY ("planId") REFERENCES "TestPlan"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestResult" ADD CONSTRAINT "TestResult_calibrationId_fkey" FOREIGN KEY ("calibrationId") REFERENCES "Calibration"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestResult" ADD CONSTRAINT "TestResult_correctsId_fkey" FOREIGN KEY ("correctsId") REFERENCES "TestResult"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestWaiver" ADD CONSTRAINT "TestWaiver_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestWaiver" ADD CONSTRAINT "TestWaiver_planId_fkey" FOREIGN KEY ("planId") REFERENCES "TestPlan"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "FaultCoding" ADD CONSTRAINT "FaultCoding_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "NoFaultEntry" ADD CONSTRAINT "NoFaultEntry_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- Values
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "TestPlan"
  ADD CONSTRAINT "TestPlan_values" CHECK ("version" >= 1 AND jsonb_typeof("tests") = 'array' AND "why" <> ''
    AND "state" IN ('proposed', 'approved', 'dropped')),
  -- Only set-up leaves the proposer out; a person's proposal is settled by somebody, and never approved by the same one.
  ADD CONSTRAINT "TestPlan_two_people" CHECK (
    ("state" = 'proposed') = ("settledAt" IS NULL)
    AND ("state" = 'proposed' OR "proposedByUserId" IS NULL OR ("settledByUserId" IS NOT NULL
      AND ("state" = 'dropped' OR "settledByUserId" <> "proposedByUserId"))));
-- Two proposals for the same packs side by side would each forget the other's change.
CREATE UNIQUE INDEX "TestPlan_one_proposal_a_scope" ON "TestPlan" ("scope") WHERE "state" = 'proposed';

ALTER TABLE "Instrument" ADD CONSTRAINT "Instrument_kind" CHECK ("kind" IN ('voltmeter', 'group-voltmeter',
  'insulation-tester', 'four-wire-ohmmeter', 'capacity-bench', 'load-bench', 'thermometer', 'feeler-gauge', 'leak-tester'));
ALTER TABLE "Calibration" ADD CONSTRAINT "Calibration_values" CHECK (
  "outcome" IN ('passed', 'out-of-use') AND ("outcome" = 'passed') = ("dueOn" IS NOT NULL)
  AND ("dueOn" IS NULL OR "dueOn" >= "calibratedOn")
  AND "uncertaintyPercent" BETWEEN 0 AND 100 AND "uncertaintyFloor" >= 0);

ALTER TABLE "TestResult"
  ADD CONSTRAINT "TestResult_values" CHECK ("purpose" IN ('finding', 'retest')
    AND "verdict" IN ('inside', 'outside', 'cannot-tell')
    AND ("seen" IS NULL OR "seen" IN ('as-expected', 'not-as-expected', 'cannot-tell'))
    AND ("value" IS NULL) <> ("seen" IS NULL)
    -- A number has its unit, its uncertainty and the instrument that gave it.
    AND ("value" IS NULL) = ("unit" IS NULL) AND ("value" IS NULL) = ("expandedUncertainty" IS NULL)
    AND ("value" IS NULL) = ("calibrationId" IS NULL) AND coalesce("expandedUncertainty", 0) >= 0
    AND ("value" IS NULL OR "lower" IS NOT NULL OR "upper" IS NOT NULL) AND coalesce("lower" <= "upper", true)),
  ADD CONSTRAINT "TestResult_correction" CHECK ("correctsId" IS DISTINCT FROM "id");
ALTER TABLE "TestWaiver" ADD CONSTRAINT "TestWaiver_why" CHECK (length(trim("why")) >= 10);
ALTER TABLE "FaultCoding" ADD CONSTRAINT "FaultCoding_values" CHECK ("version" >= 1
  AND "howSure" IN ('shown', 'likely', 'open'));
ALTER TABLE "NoFaultEntry" ADD CONSTRAINT "NoFaultEntry_values" CHECK ("kind" IN ('started', 'step', 'waived')
  AND ("kind" = 'step') = ("step" IS NOT NULL) AND ("kind" = 'step') = ("outcome" IS NOT NULL)
  AND ("outcome" IS NULL OR "outcome" IN ('shown', 'not-shown', 'not-possible')));

-- ---------------------------------------------------------------------------------------------------------------
-- Written once
-- ---------------------------------------------------------------------------------------------------------------
DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['Instrument', 'Calibration', 'TestResult', 'TestWaiver', 'FaultCoding', 'NoFaultEntry']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION "refuse_change"()',
      t || '_written_once', t);
  END LOOP;
END $$;

-- Settling is the one change there is; every test and limit stays as it was proposed.
CREATE FUNCTION "refuse_test_plan_edit"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  settling text[] := ARRAY['state', 'settledByUserId', 'settledByName', 'settledAt'];
BEGIN
  IF TG_OP = 'DELETE' OR OLD."state" <> 'proposed'
    OR (to_jsonb(NEW) - settling) IS DISTINCT FROM (to_jsonb(OLD) - settling) THEN
    RAISE EXCEPTION 'a version of a test plan is written once: propose a new one' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "TestPlan_never_edited" BEFORE UPDATE OR DELETE ON "TestPlan"
  FOR EACH ROW EXECUTE FUNCTION "refuse_test_plan_edit"();

-- A correction stands for the same test of the same return.
CREATE FUNCTION "refuse_foreign_correction"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM "TestResult" r WHERE r."id" = NEW."correctsId" AND r."returnId" = NEW."returnId"
    AND r."testKey" = NEW."testKey" AND r."purpose" = NEW."purpose") THEN
    RAISE EXCEPTION 'a correction names a result of the same test and return' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "TestResult_corrects_its_own" BEFORE INSERT ON "TestResult"
  FOR EACH ROW WHEN (NEW."correctsId" IS NOT NULL) EXECUTE FUNCTION "refuse_foreign_correction"();

-- ---------------------------------------------------------------------------------------------------------------
-- Who sees and who writes: the bench's own, no dealer's and not finance's.
-- ---------------------------------------------------------------------------------------------------------------
CREATE FUNCTION "bench_tests_packs"() RETURNS boolean LANGUAGE sql STABLE AS
  $$ SELECT bench_role() IN ('technician', 'service-lead', 'system') $$;
CREATE FUNCTION "bench_settles_test_plans"() RETURNS boolean LANGUAGE sql STABLE AS
  $$ SELECT bench_role() IN ('service-lead', 'manager', 'system') $$;

DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['TestPlan', 'Instrument', 'Calibration', 'TestResult', 'TestWaiver', 'FaultCoding', 'NoFaultEntry']
  LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
    EXECUTE format('CREATE POLICY "read_by_house" ON %I FOR SELECT USING (bench_sees_build())', t);
  END LOOP;
  FOREACH t IN ARRAY ARRAY['Instrument', 'Calibration', 'TestResult', 'TestWaiver', 'FaultCoding']
  LOOP
    EXECUTE format('CREATE POLICY "written_by_bench" ON %I FOR INSERT WITH CHECK (bench_tests_packs())', t);
  END LOOP;
END $$;
CREATE POLICY "written_by_bench" ON "NoFaultEntry" FOR INSERT WITH CHECK (
  bench_tests_packs() AND ("kind" <> 'waived' OR bench_role() IN ('service-lead', 'system')));
CREATE POLICY "proposed" ON "TestPlan" FOR INSERT WITH CHECK (bench_role() = 'system'
  OR (bench_settles_test_plans() AND "state" = 'proposed' AND "proposedByUserId" IS NOT NULL));
CREATE POLICY "settled" ON "TestPlan" FOR UPDATE USING (bench_settles_test_plans()) WITH CHECK (bench_settles_test_plans());

GRANT SELECT, INSERT ON "TestPlan", "Instrument", "Calibration", "TestResult", "TestWaiver", "FaultCoding", "NoFaultEntry"
  TO bench_actor;
GRANT UPDATE ("state", "settledByUserId", "settledByName", "settledAt") ON "TestPlan" TO bench_actor;
