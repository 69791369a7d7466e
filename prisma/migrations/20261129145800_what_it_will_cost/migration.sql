-- CreateTable
CREATE TABLE "CostAssumption" (
    "id" UUID NOT NULL,
    "part" TEXT NOT NULL,
    "remedy" TEXT NOT NULL,
    "modelCode" TEXT,
    "country" TEXT,
    "currency" TEXT NOT NULL,
    "meanMinor" INTEGER NOT NULL,
    "spreadMinor" INTEGER NOT NULL,
    "errorMinor" INTEGER NOT NULL,
    "cases" INTEGER NOT NULL,
    "validFrom" DATE NOT NULL,
    "why" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'proposed',
    "proposedByUserId" TEXT,
    "proposedByName" TEXT,
    "proposedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "settledByUserId" TEXT,
    "settledByName" TEXT,
    "settledAt" TIMESTAMPTZ(3),

    CONSTRAINT "CostAssumption_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ExchangeRate" (
    "id" UUID NOT NULL,
    "currency" TEXT NOT NULL,
    "into" TEXT NOT NULL,
    "rate" DOUBLE PRECISION NOT NULL,
    "validFrom" DATE NOT NULL,
    "source" TEXT NOT NULL,
    "setByUserId" TEXT NOT NULL,
    "setByName" TEXT NOT NULL,
    "setAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "ExchangeRate_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Forecast" (
    "id" UUID NOT NULL,
    "dataDate" DATE NOT NULL,
    "countingRules" TEXT NOT NULL,
    "forecastRules" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "keptAt" TIMESTAMPTZ(3) NOT NULL,
    "keptByUserId" TEXT NOT NULL,
    "keptByName" TEXT NOT NULL,

    CONSTRAINT "Forecast_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ForecastRevision" (
    "id" UUID NOT NULL,
    "forecastId" UUID NOT NULL,
    "revisionId" UUID NOT NULL,
    "packsUnderCover" INTEGER NOT NULL,
    "failures" INTEGER NOT NULL,
    "basis" JSONB NOT NULL,
    "cost" JSONB,

    CONSTRAINT "ForecastRevision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ForecastLine" (
    "id" UUID NOT NULL,
    "forecastId" UUID NOT NULL,
    "revisionId" UUID,
    "horizon" TEXT NOT NULL,
    "expected" DOUBLE PRECISION,
    "lower" INTEGER,
    "upper" INTEGER,
    "refusal" TEXT,
    "costMean" DOUBLE PRECISION,
    "costLower" DOUBLE PRECISION,
    "costUpper" DOUBLE PRECISION,

    CONSTRAINT "ForecastLine_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "CostAssumption_modelCode_idx" ON "CostAssumption"("modelCode");

-- CreateIndex
CREATE UNIQUE INDEX "ExchangeRate_currency_into_validFrom_key" ON "ExchangeRate"("currency", "into", "validFrom");

-- CreateIndex
CREATE UNIQUE INDEX "Forecast_dataDate_key" ON "Forecast"("dataDate");

-- CreateIndex
CREATE INDEX "ForecastRevision_revisionId_idx" ON "ForecastRevision"("revisionId");

-- CreateIndex
CREATE UNIQUE INDEX "ForecastRevision_forecastId_revisionId_key" ON "ForecastRevision"("forecastId", "revisionId");

-- CreateIndex
CREATE INDEX "ForecastLine_forecastId_idx" ON "ForecastLine"("forecastId");

-- CreateIndex
CREATE INDEX "ForecastLine_revisionId_idx" ON "ForecastLine"("revisionId");

-- AddForeignKey
ALTER TABLE "CostAssumption" ADD CONSTRAINT "CostAssumption_modelCode_fkey" FOREIGN KEY ("modelCode") REFERENCES "PackModel"("code") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ForecastRevision" ADD CONSTRAINT "ForecastRevision_forecastId_fkey" FOREIGN KEY ("forecastId") REFERENCES "Forecast"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ForecastRevision" ADD CONSTRAINT "ForecastRevision_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "Revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ForecastLine" ADD CONSTRAINT "ForecastLine_forecastId_fkey" FOREIGN KEY ("forecastId") REFERENCES "Forecast"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ForecastLine" ADD CONSTRAINT "ForecastLine_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "Revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- Checks
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "CostAssumption"
  ADD CONSTRAINT "CostAssumption_values" CHECK ("part" IN ('own-work', 'dealer-payments')
    AND "remedy" IN ('repair', 'replace', 'refund', 'remote-fix', 'return-as-is', 'refuse', 'redirect', 'dispose', 'isolate')
    AND ("country" IS NULL OR "country" ~ '^[A-Z]{2}$') AND "currency" ~ '^[A-Z]{3}$' AND "meanMinor" > 0 AND "spreadMinor" >= 0
    AND "errorMinor" >= 0 AND "cases" >= 0),
  ADD CONSTRAINT "CostAssumption_state" CHECK ("state" IN ('proposed', 'approved', 'dropped')),
  -- Only set-up leaves the persons out; a person's proposal is settled by somebody, and never approved by the same one.
  ADD CONSTRAINT "CostAssumption_two_people" CHECK (
    "state" = 'proposed' OR "proposedByUserId" IS NULL OR ("settledByUserId" IS NOT NULL AND "settledAt" IS NOT NULL
      AND ("state" = 'dropped' OR "settledByUserId" <> "proposedByUserId")));

-- One approved amount of a kind a day, "every model" and "every country" being kinds of their own.
CREATE UNIQUE INDEX "CostAssumption_one_approved_a_day" ON "CostAssumption"
  ("part", "remedy", coalesce("modelCode", ''), coalesce("country", ''), "validFrom") WHERE "state" = 'approved';

ALTER TABLE "ExchangeRate"
  ADD CONSTRAINT "ExchangeRate_values" CHECK ("currency" ~ '^[A-Z]{3}$' AND "into" ~ '^[A-Z]{3}$' AND "currency" <> "into"
    AND "rate" > 0 AND "rate" < 1000000);

ALTER TABLE "ForecastLine"
  ADD CONSTRAINT "ForecastLine_values" CHECK ("horizon" IN ('3', '6', '12', 'cover-end')
    AND ("expected" IS NULL) = ("refusal" IS NOT NULL) AND ("expected" IS NULL) = ("lower" IS NULL)
    AND ("expected" IS NULL) = ("upper" IS NULL) AND ("lower" IS NULL OR "lower" BETWEEN 0 AND "upper")
    AND ("costMean" IS NULL) = ("costLower" IS NULL) AND ("costMean" IS NULL) = ("costUpper" IS NULL)
    AND ("costMean" IS NULL OR "expected" IS NOT NULL));
CREATE UNIQUE INDEX "ForecastLine_once" ON "ForecastLine"
  ("forecastId", coalesce("revisionId", '00000000-0000-0000-0000-000000000000'::uuid), "horizon");

-- ---------------------------------------------------------------------------------------------------------------
-- Written once. Settling is the one change a proposed cost knows.
-- ---------------------------------------------------------------------------------------------------------------
DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['ExchangeRate', 'Forecast', 'ForecastRevision', 'ForecastLine']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION "refuse_change"()',
      t || '_written_once', t);
  END LOOP;
END $$;

CREATE FUNCTION "refuse_cost_edit"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  settling text[] := ARRAY['state', 'settledByUserId', 'settledByName', 'settledAt'];
BEGIN
  IF TG_OP = 'DELETE' OR OLD."state" <> 'proposed'
    OR (to_jsonb(NEW) - settling) IS DISTINCT FROM (to_jsonb(OLD) - settling) THEN
    RAISE EXCEPTION 'the cost of a return is never edited: propose a new one' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "CostAssumption_never_edited" BEFORE UPDATE OR DELETE ON "CostAssumption"
  FOR EACH ROW EXECUTE FUNCTION "refuse_cost_edit"();

-- ---------------------------------------------------------------------------------------------------------------
-- Managers and finance see what returns cost and will cost; managers propose, approve and keep; finance sets the rates.
-- ---------------------------------------------------------------------------------------------------------------
CREATE FUNCTION "bench_sees_cost"() RETURNS boolean LANGUAGE sql STABLE AS
  $$ SELECT bench_role() IN ('manager', 'finance', 'system') $$;

DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['CostAssumption', 'ExchangeRate', 'Forecast', 'ForecastRevision', 'ForecastLine']
  LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
    EXECUTE format('CREATE POLICY "those_who_see_cost" ON %I FOR SELECT USING (bench_sees_cost())', t);
  END LOOP;
  FOREACH t IN ARRAY ARRAY['Forecast', 'ForecastRevision', 'ForecastLine']
  LOOP
    EXECUTE format('CREATE POLICY "kept_by_managers" ON %I FOR INSERT WITH CHECK (bench_role() IN (''manager'', ''system''))', t);
  END LOOP;
END $$;

CREATE POLICY "proposed_by_managers" ON "CostAssumption" FOR INSERT WITH CHECK (
  bench_role() = 'system' OR (bench_role() = 'manager' AND "state" = 'proposed' AND "proposedByUserId" IS NOT NULL));
CREATE POLICY "settled_by_managers" ON "CostAssumption" FOR UPDATE
  USING (bench_role() IN ('system', 'manager')) WITH CHECK (bench_role() IN ('system', 'manager'));
CREATE POLICY "set_by_finance" ON "ExchangeRate" FOR INSERT WITH CHECK (bench_role() IN ('finance', 'system'));

GRANT SELECT, INSERT ON "CostAssumption", "ExchangeRate", "Forecast", "ForecastRevision", "ForecastLine" TO bench_actor;
GRANT UPDATE ("state", "settledByUserId", "settledByName", "settledAt") ON "CostAssumption" TO bench_actor;
