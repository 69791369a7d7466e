-- CreateTable
CREATE TABLE "LegalDutyVersion" (
    "id" UUID NOT NULL,
    "version" TEXT NOT NULL,
    "country" TEXT NOT NULL,
    "salesFrom" DATE NOT NULL,
    "validFrom" DATE NOT NULL,
    "content" JSONB NOT NULL,
    "why" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'proposed',
    "proposedByUserId" TEXT,
    "proposedByName" TEXT,
    "proposedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "settledByUserId" TEXT,
    "settledByName" TEXT,
    "settledAt" TIMESTAMPTZ(3),

    CONSTRAINT "LegalDutyVersion_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "LegalDutyConfirmation" (
    "id" UUID NOT NULL,
    "country" TEXT NOT NULL,
    "version" TEXT NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "counselName" TEXT NOT NULL,
    "counselQualification" TEXT NOT NULL,
    "statement" TEXT NOT NULL,
    "confirmedOn" DATE NOT NULL,
    "recordedByUserId" TEXT NOT NULL,
    "recordedByName" TEXT NOT NULL,
    "recordedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "LegalDutyConfirmation_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "LegalDutyVersion_version_key" ON "LegalDutyVersion"("version");

-- CreateIndex
CREATE INDEX "LegalDutyVersion_country_validFrom_idx" ON "LegalDutyVersion"("country", "validFrom");

-- CreateIndex
CREATE UNIQUE INDEX "LegalDutyConfirmation_fingerprint_key" ON "LegalDutyConfirmation"("fingerprint");

ALTER TABLE "LegalDutyVersion"
  ADD CONSTRAINT "LegalDutyVersion_country" CHECK ("country" ~ '^[A-Z]{2}$'),
  ADD CONSTRAINT "LegalDutyVersion_state" CHECK ("state" IN ('proposed', 'approved', 'dropped')),
  ADD CONSTRAINT "LegalDutyVersion_two_people" CHECK (
    "state" = 'proposed' OR "proposedByUserId" IS NULL OR ("settledByUserId" IS NOT NULL AND "settledAt" IS NOT NULL
      AND ("state" = 'dropped' OR "settledByUserId" <> "proposedByUserId")));
CREATE UNIQUE INDEX "LegalDutyVersion_one_approved_a_day" ON "LegalDutyVersion" ("country", "salesFrom", "validFrom")
  WHERE "state" = 'approved';
CREATE TRIGGER "LegalDutyVersion_never_edited" BEFORE UPDATE OR DELETE ON "LegalDutyVersion"
  FOR EACH ROW EXECUTE FUNCTION "refuse_proposal_edit"();

ALTER TABLE "LegalDutyConfirmation"
  ADD CONSTRAINT "LegalDutyConfirmation_fingerprint" CHECK ("fingerprint" ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT "LegalDutyConfirmation_words" CHECK (
    length("counselName") >= 3 AND length("counselQualification") >= 3 AND length("statement") >= 10);
CREATE TRIGGER "LegalDutyConfirmation_written_once" BEFORE UPDATE OR DELETE ON "LegalDutyConfirmation"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();

-- What counts is on every dealer's page; what is proposed is the house's. Managers alone propose, settle and record.
ALTER TABLE "LegalDutyVersion" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "LegalDutyVersion" FORCE ROW LEVEL SECURITY;
CREATE POLICY "approved_for_all" ON "LegalDutyVersion" FOR SELECT USING ("state" = 'approved' OR bench_sees_all());
CREATE POLICY "proposed_by_a_manager" ON "LegalDutyVersion" FOR INSERT WITH CHECK (
  bench_role() = 'system' OR (bench_role() = 'manager' AND "state" = 'proposed' AND "proposedByUserId" IS NOT NULL));
CREATE POLICY "settled_by_two" ON "LegalDutyVersion" FOR UPDATE
  USING (bench_role() IN ('manager', 'system')) WITH CHECK (bench_role() IN ('manager', 'system'));
GRANT SELECT, INSERT ON "LegalDutyVersion" TO bench_actor;
GRANT UPDATE ("state", "settledByUserId", "settledByName", "settledAt") ON "LegalDutyVersion" TO bench_actor;

ALTER TABLE "LegalDutyConfirmation" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "LegalDutyConfirmation" FORCE ROW LEVEL SECURITY;
CREATE POLICY "read_by_all" ON "LegalDutyConfirmation" FOR SELECT USING (true);
CREATE POLICY "recorded_by_a_manager" ON "LegalDutyConfirmation" FOR INSERT WITH CHECK (
  bench_role() IN ('manager', 'system'));
GRANT SELECT, INSERT ON "LegalDutyConfirmation" TO bench_actor;
