-- What the schema language cannot say: checks, append-only tables, the demo wall, and row-level security.
-- Everything here is plain PostgreSQL and runs alike on the embedded database and on a server.

-- ---------------------------------------------------------------------------------------------------------------
-- Checks
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "Instance"
  ADD CONSTRAINT "Instance_single" CHECK ("id" = 1),
  ADD CONSTRAINT "Instance_mode" CHECK ("mode" IN ('live', 'demo'));

ALTER TABLE "PackModel"
  ADD CONSTRAINT "PackModel_code" CHECK ("code" ~ '^[A-Z]{2}$'),
  ADD CONSTRAINT "PackModel_counts" CHECK ("seriesCount" BETWEEN 1 AND 400 AND "parallelCount" BETWEEN 1 AND 200),
  ADD CONSTRAINT "PackModel_positive" CHECK (
    "ratedCapacityAh" > 0 AND "ratedVoltageV" > 0 AND "cellMinV" > 0 AND "cellMaxV" > "cellMinV"
    AND "continuousDischargeA" > 0 AND "peakDischargeA" >= "continuousDischargeA" AND "peakSeconds" > 0
    AND "chargeMaxA" > 0 AND "chargeMaxTemperatureC" > "chargeMinTemperatureC" AND "cyclesTo80Percent" > 0 AND "massKg" > 0);

ALTER TABLE "Revision"
  ADD CONSTRAINT "Revision_dates" CHECK ("supersededOn" IS NULL OR "supersededOn" >= "introducedOn");

ALTER TABLE "KnownIssue"
  ADD CONSTRAINT "KnownIssue_bound" CHECK ("revisionId" IS NOT NULL OR "lotId" IS NOT NULL),
  ADD CONSTRAINT "KnownIssue_dates" CHECK ("closedOn" IS NULL OR "closedOn" >= "openedOn");

ALTER TABLE "Lot" ADD CONSTRAINT "Lot_kind" CHECK ("kind" IN ('cell', 'joining', 'potting', 'board'));

ALTER TABLE "Pack"
  ADD CONSTRAINT "Pack_serial" CHECK ("serial" ~ '^[A-Z]{2}[0-9]{8}[0-9A-Z]$'),
  ADD CONSTRAINT "Pack_dispatch_after_build" CHECK ("dispatchedOn" IS NULL OR "dispatchedOn" >= "builtOn");

ALTER TABLE "Replacement" ADD CONSTRAINT "Replacement_not_itself" CHECK ("oldPackId" <> "newPackId");

ALTER TABLE "Dealer" ADD CONSTRAINT "Dealer_country" CHECK ("country" ~ '^[A-Z]{2}$');

ALTER TABLE "Sale"
  ADD CONSTRAINT "Sale_buyer" CHECK ("buyerKind" IN ('consumer', 'business')),
  ADD CONSTRAINT "Sale_evidence" CHECK ("evidence" IN ('delivery-receipt', 'registration', 'statement')
    AND ("evidence" = 'registration') = ("registeredOn" IS NOT NULL)),
  ADD CONSTRAINT "Sale_observed" CHECK ("underObservationFrom" >= "soldOn");

ALTER TABLE "WarrantyPolicy"
  ADD CONSTRAINT "WarrantyPolicy_values" CHECK (
    "months" BETWEEN 1 AND 600 AND "graceDays" BETWEEN 0 AND 366 AND coalesce("stockAgeCapMonths", 0) BETWEEN 0 AND 120
    AND "minimumDays" BETWEEN 0 AND 3660
    AND "leapDay" IN ('february-28', 'march-1') AND "replacementRule" IN ('remainder', 'minimum', 'restart'));

ALTER TABLE "User"
  ADD CONSTRAINT "User_role" CHECK ("role" IN ('dealer', 'service', 'manager')),
  ADD CONSTRAINT "User_dealer" CHECK (("role" = 'dealer') = ("dealerId" IS NOT NULL));

ALTER TABLE "Return"
  ADD CONSTRAINT "Return_status" CHECK ("status" IN ('sent-in', 'in-review', 'decided', 'withdrawn')),
  ADD CONSTRAINT "Return_version" CHECK ("version" >= 1),
  ADD CONSTRAINT "Return_noticed_before_told" CHECK ("noticedOn" <= "toldOn"),
  ADD CONSTRAINT "Return_concern" CHECK (length("concern") BETWEEN 3 AND 2000),
  ADD CONSTRAINT "Return_cover" CHECK (
    "coverOutcome" IN ('in-cover', 'in-cover-by-grace', 'outside-makers-guarantee', 'cannot-tell-yet'));

-- One open return for one pack, whoever lodges it.
CREATE UNIQUE INDEX "Return_one_open_per_pack" ON "Return" ("packId") WHERE "status" IN ('sent-in', 'in-review');

ALTER TABLE "ReturnMove"
  ADD CONSTRAINT "ReturnMove_sequence" CHECK ("sequence" >= 1),
  ADD CONSTRAINT "ReturnMove_hash" CHECK ("hash" ~ '^[0-9a-f]{64}$' AND "previousHash" ~ '^[0-9a-f]{64}$');

ALTER TABLE "ReadingFile"
  ADD CONSTRAINT "ReadingFile_sha256" CHECK ("sha256" ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT "ReadingFile_values" CHECK (
    "sizeBytes" BETWEEN 1 AND 268435456 AND "rows" >= 0 AND "groups" >= 0 AND "coverage" BETWEEN 0 AND 1
    AND "timeRepairs" >= 0 AND "rejectedRows" >= 0 AND "spanSeconds" >= 0
    AND "currentSign" IN ('charge-positive', 'discharge-positive', 'unknown'));

ALTER TABLE "Measurement"
  ADD CONSTRAINT "Measurement_group" CHECK ("group" IS NULL OR "group" >= 1),
  ADD CONSTRAINT "Measurement_finite" CHECK ("value" <> 'NaN'::float8 AND "value" <> 'Infinity'::float8 AND "value" <> '-Infinity'::float8);

ALTER TABLE "Finding"
  ADD CONSTRAINT "Finding_confidence" CHECK ("confidence" BETWEEN 0 AND 1),
  ADD CONSTRAINT "Finding_class" CHECK ("safetyClass" IN ('A0', 'A1', 'B', 'U', 'C'));

ALTER TABLE "Suggestion"
  ADD CONSTRAINT "Suggestion_remedy" CHECK (
    "remedy" IN ('remote-fix', 'repair', 'replace', 'isolate', 'return-as-is', 'cannot-tell'));

ALTER TABLE "Decision"
  ADD CONSTRAINT "Decision_remedy" CHECK ("remedy" IN ('remote-fix', 'repair', 'replace', 'isolate', 'return-as-is')),
  ADD CONSTRAINT "Decision_replacement" CHECK (("remedy" = 'replace') OR "replacementRevisionId" IS NULL),
  ADD CONSTRAINT "Decision_reason" CHECK (length("reason") BETWEEN 10 AND 2000);

-- The running number in a return's reference.
CREATE SEQUENCE "return_reference_number";

-- ---------------------------------------------------------------------------------------------------------------
-- Written once
-- ---------------------------------------------------------------------------------------------------------------
CREATE FUNCTION "refuse_change"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is written once: a correction is a new row', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
END $$;

CREATE TRIGGER "BuildRecord_written_once" BEFORE UPDATE OR DELETE ON "BuildRecord"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
CREATE TRIGGER "ReturnMove_written_once" BEFORE UPDATE OR DELETE ON "ReturnMove"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
CREATE TRIGGER "Decision_written_once" BEFORE UPDATE OR DELETE ON "Decision"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();

-- ---------------------------------------------------------------------------------------------------------------
-- Demo accounts exist in a demo database only, and a demo database never becomes a live one
-- ---------------------------------------------------------------------------------------------------------------
CREATE FUNCTION "refuse_demo_account"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."isDemo" AND NOT EXISTS (SELECT 1 FROM "Instance" WHERE "mode" = 'demo') THEN
    RAISE EXCEPTION 'a demo account needs a demo database' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER "User_no_demo_account_in_live" BEFORE INSERT OR UPDATE ON "User"
  FOR EACH ROW EXECUTE FUNCTION "refuse_demo_account"();

CREATE FUNCTION "refuse_mode_change"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR NEW."mode" <> OLD."mode" THEN
    RAISE EXCEPTION 'the mode of a database is chosen once' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER "Instance_mode_is_final" BEFORE UPDATE OR DELETE ON "Instance"
  FOR EACH ROW EXECUTE FUNCTION "refuse_mode_change"();

-- ---------------------------------------------------------------------------------------------------------------
-- Two walls between dealers: this is the second. The role owns nothing and bypasses nothing; the dealer's id is set
-- for one transaction. A forgotten WHERE returns nothing rather than a competitor's rows.
-- ---------------------------------------------------------------------------------------------------------------
DO $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'bench_actor') THEN
    CREATE ROLE bench_actor NOLOGIN NOSUPERUSER NOBYPASSRLS;
  END IF;
  EXECUTE format('GRANT bench_actor TO %I', current_user);
END $$;

CREATE FUNCTION "bench_sees_all"() RETURNS boolean LANGUAGE sql STABLE AS
  $$ SELECT coalesce(current_setting('bench.role', true), '') IN ('service', 'manager', 'system') $$;

CREATE FUNCTION "bench_dealer"() RETURNS uuid LANGUAGE sql STABLE AS
  $$ SELECT nullif(current_setting('bench.dealer_id', true), '')::uuid $$;

GRANT USAGE ON SCHEMA public TO bench_actor;
GRANT SELECT ON "PackModel", "Revision", "RevisionReplacement", "KnownIssue", "Lot", "Pack", "BuildRecord", "PackLot",
  "Replacement", "Dealer", "Sale", "WarrantyPolicy", "Return", "ReturnMove", "Decision", "SafetyFlag", "ReadingFile",
  "Measurement", "Finding", "Suggestion" TO bench_actor;
GRANT INSERT ON "Return", "ReturnMove", "Decision", "SafetyFlag", "ReadingFile", "Measurement", "Finding", "Suggestion" TO bench_actor;
GRANT UPDATE ON "Return", "ReadingFile" TO bench_actor;
GRANT DELETE ON "ReadingFile", "Measurement", "Finding", "Suggestion" TO bench_actor;
GRANT USAGE ON SEQUENCE "return_reference_number" TO bench_actor;
-- No grant on "User", "Session", "Account", "Verification", "RateLimiterFlexible", "Instance": those are the system's.

DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['Dealer', 'Sale', 'Lot', 'PackLot', 'KnownIssue', 'BuildRecord', 'Replacement', 'Return', 'ReturnMove',
    'Decision', 'SafetyFlag', 'ReadingFile', 'Measurement', 'Finding', 'Suggestion']
  LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
  END LOOP;
  -- What only the maker's own people see.
  FOREACH t IN ARRAY ARRAY['Lot', 'PackLot', 'KnownIssue', 'BuildRecord', 'Replacement']
  LOOP
    EXECUTE format('CREATE POLICY "house" ON %I USING (bench_sees_all()) WITH CHECK (bench_sees_all())', t);
  END LOOP;
  -- What carries its dealer.
  FOREACH t IN ARRAY ARRAY['Sale', 'Return', 'SafetyFlag', 'ReadingFile']
  LOOP
    EXECUTE format('CREATE POLICY "own_dealer" ON %I USING (bench_sees_all() OR "dealerId" = bench_dealer())
      WITH CHECK (bench_sees_all() OR "dealerId" = bench_dealer())', t);
  END LOOP;
  -- What hangs on a return or a file: visible where the parent is (the parent's own policy decides).
  FOREACH t IN ARRAY ARRAY['ReturnMove', 'Decision']
  LOOP
    EXECUTE format('CREATE POLICY "with_its_return" ON %I
      USING (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = %I."returnId"))
      WITH CHECK (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = %I."returnId"))', t, t, t);
  END LOOP;
  FOREACH t IN ARRAY ARRAY['Measurement', 'Finding', 'Suggestion']
  LOOP
    EXECUTE format('CREATE POLICY "with_its_file" ON %I
      USING (EXISTS (SELECT 1 FROM "ReadingFile" f WHERE f."id" = %I."readingFileId"))
      WITH CHECK (EXISTS (SELECT 1 FROM "ReadingFile" f WHERE f."id" = %I."readingFileId"))', t, t, t);
  END LOOP;
END $$;

CREATE POLICY "own_dealer" ON "Dealer" USING (bench_sees_all() OR "id" = bench_dealer())
  WITH CHECK (bench_sees_all());

-- An upload may be swept away until its form is sent; from then on it is evidence.
CREATE FUNCTION "refuse_evidence_removal"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'a readings file that belongs to a return is evidence' USING ERRCODE = 'integrity_constraint_violation';
END $$;

CREATE TRIGGER "ReadingFile_kept_once_attached" BEFORE DELETE ON "ReadingFile"
  FOR EACH ROW WHEN (OLD."returnId" IS NOT NULL) EXECUTE FUNCTION "refuse_evidence_removal"();
