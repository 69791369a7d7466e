-- CreateTable
CREATE TABLE "QuarantinePlace" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "whereItIs" TEXT NOT NULL,
    "maxPacks" INTEGER NOT NULL,
    "maxEnergyKwh" DOUBLE PRECISION NOT NULL,
    "minimumHours" INTEGER NOT NULL,
    "overdueAfterHours" INTEGER NOT NULL,
    "emergencyNumber" TEXT NOT NULL,
    "onCall" TEXT NOT NULL,
    "extinguishing" TEXT NOT NULL,
    "assemblyPoint" TEXT NOT NULL,
    "setByUserId" TEXT NOT NULL,
    "setByName" TEXT NOT NULL,
    "setAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "QuarantinePlace_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Arrival" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "scanned" TEXT NOT NULL,
    "identity" TEXT NOT NULL,
    "foundSerial" TEXT,
    "boxCondition" TEXT NOT NULL,
    "signs" TEXT[],
    "insulationMegaohm" DOUBLE PRECISION,
    "note" TEXT NOT NULL,
    "arrivedAt" TIMESTAMPTZ(3) NOT NULL,
    "receivedByUserId" TEXT NOT NULL,
    "receivedByName" TEXT NOT NULL,

    CONSTRAINT "Arrival_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "IdentitySettlement" (
    "arrivalId" UUID NOT NULL,
    "how" TEXT NOT NULL,
    "settledAt" TIMESTAMPTZ(3) NOT NULL,
    "settledByUserId" TEXT NOT NULL,
    "settledByName" TEXT NOT NULL,

    CONSTRAINT "IdentitySettlement_pkey" PRIMARY KEY ("arrivalId")
);

-- CreateTable
CREATE TABLE "QuarantineStay" (
    "id" UUID NOT NULL,
    "arrivalId" UUID NOT NULL,
    "placeId" UUID NOT NULL,
    "energyKwh" DOUBLE PRECISION NOT NULL,
    "placedAt" TIMESTAMPTZ(3) NOT NULL,
    "placedByUserId" TEXT NOT NULL,
    "placedByName" TEXT NOT NULL,
    "releasedAt" TIMESTAMPTZ(3),
    "releasedByUserId" TEXT,
    "releasedByName" TEXT,

    CONSTRAINT "QuarantineStay_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "WatchMeasurement" (
    "id" UUID NOT NULL,
    "arrivalId" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "surfaceC" DOUBLE PRECISION NOT NULL,
    "ambientC" DOUBLE PRECISION NOT NULL,
    "terminalV" DOUBLE PRECISION,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,

    CONSTRAINT "WatchMeasurement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "PackPhoto" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "view" TEXT NOT NULL,
    "originalSha256" TEXT NOT NULL,
    "keptSha256" TEXT NOT NULL,
    "widthPixels" INTEGER NOT NULL,
    "heightPixels" INTEGER NOT NULL,
    "sharpness" DOUBLE PRECISION NOT NULL,
    "takenByUserId" TEXT NOT NULL,
    "takenByName" TEXT NOT NULL,
    "takenAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "PackPhoto_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Incident" (
    "id" UUID NOT NULL,
    "reference" TEXT NOT NULL,
    "packId" UUID NOT NULL,
    "returnId" UUID,
    "dealerId" UUID NOT NULL,
    "openedAt" TIMESTAMPTZ(3) NOT NULL,
    "openedByUserId" TEXT NOT NULL,
    "openedByName" TEXT NOT NULL,

    CONSTRAINT "Incident_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "IncidentEntry" (
    "id" UUID NOT NULL,
    "incidentId" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "content" JSONB NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,

    CONSTRAINT "IncidentEntry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "IncidentClosing" (
    "incidentId" UUID NOT NULL,
    "closedAt" TIMESTAMPTZ(3) NOT NULL,
    "closedByUserId" TEXT NOT NULL,
    "closedByName" TEXT NOT NULL,

    CONSTRAINT "IncidentClosing_pkey" PRIMARY KEY ("incidentId")
);

-- CreateTable
CREATE TABLE "ClockHoliday" (
    "clockId" TEXT NOT NULL,
    "day" DATE NOT NULL,
    "name" TEXT NOT NULL,
    "addedByUserId" TEXT NOT NULL,
    "addedByName" TEXT NOT NULL,
    "addedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "ClockHoliday_pkey" PRIMARY KEY ("clockId","day")
);

-- CreateTable
CREATE TABLE "TransportRuleConfirmation" (
    "id" UUID NOT NULL,
    "version" TEXT NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "adviserName" TEXT NOT NULL,
    "adviserQualification" TEXT NOT NULL,
    "statement" TEXT NOT NULL,
    "recordedByUserId" TEXT NOT NULL,
    "recordedByName" TEXT NOT NULL,
    "confirmedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "TransportRuleConfirmation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ClassDeclaration" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "transportClass" TEXT NOT NULL,
    "proposedClass" TEXT NOT NULL,
    "proposedSafety" TEXT NOT NULL,
    "proposedReasons" TEXT[],
    "notDiagnosed" TEXT[],
    "criteria" JSONB NOT NULL,
    "inEquipment" BOOLEAN NOT NULL,
    "reason" TEXT NOT NULL,
    "ruleVersion" TEXT NOT NULL,
    "ruleFingerprint" TEXT NOT NULL,
    "declaredByUserId" TEXT NOT NULL,
    "declaredByName" TEXT NOT NULL,
    "declaredByRole" TEXT NOT NULL,
    "declaredAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "ClassDeclaration_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SendingLeave" (
    "id" UUID NOT NULL,
    "declarationId" UUID NOT NULL,
    "givenAt" TIMESTAMPTZ(3) NOT NULL,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "givenByUserId" TEXT NOT NULL,
    "givenByName" TEXT NOT NULL,

    CONSTRAINT "SendingLeave_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "PrintedSheet" (
    "id" UUID NOT NULL,
    "declarationId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "printedAt" TIMESTAMPTZ(3) NOT NULL,
    "printedByUserId" TEXT NOT NULL,
    "printedByName" TEXT NOT NULL,

    CONSTRAINT "PrintedSheet_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "QuarantinePlace_code_key" ON "QuarantinePlace"("code");

-- CreateIndex
CREATE INDEX "Arrival_returnId_idx" ON "Arrival"("returnId");

-- CreateIndex
CREATE INDEX "QuarantineStay_arrivalId_idx" ON "QuarantineStay"("arrivalId");

-- CreateIndex
CREATE INDEX "QuarantineStay_placeId_idx" ON "QuarantineStay"("placeId");

-- CreateIndex
CREATE INDEX "WatchMeasurement_arrivalId_idx" ON "WatchMeasurement"("arrivalId");

-- CreateIndex
CREATE INDEX "PackPhoto_returnId_idx" ON "PackPhoto"("returnId");

-- CreateIndex
CREATE UNIQUE INDEX "Incident_reference_key" ON "Incident"("reference");

-- CreateIndex
CREATE INDEX "Incident_packId_idx" ON "Incident"("packId");

-- CreateIndex
CREATE INDEX "Incident_returnId_idx" ON "Incident"("returnId");

-- CreateIndex
CREATE INDEX "Incident_dealerId_idx" ON "Incident"("dealerId");

-- CreateIndex
CREATE UNIQUE INDEX "IncidentEntry_incidentId_sequence_key" ON "IncidentEntry"("incidentId", "sequence");

-- CreateIndex
CREATE UNIQUE INDEX "TransportRuleConfirmation_version_fingerprint_key" ON "TransportRuleConfirmation"("version", "fingerprint");

-- CreateIndex
CREATE UNIQUE INDEX "ClassDeclaration_returnId_sequence_key" ON "ClassDeclaration"("returnId", "sequence");

-- CreateIndex
CREATE INDEX "SendingLeave_declarationId_idx" ON "SendingLeave"("declarationId");

-- CreateIndex
CREATE INDEX "PrintedSheet_declarationId_idx" ON "PrintedSheet"("declarationId");

-- AddForeignKey
ALTER TABLE "Arrival" ADD CONSTRAINT "Arrival_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "IdentitySettlement" ADD CONSTRAINT "IdentitySettlement_arrivalId_fkey" FOREIGN KEY ("arrivalId") REFERENCES "Arrival"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "QuarantineStay" ADD CONSTRAINT "QuarantineStay_arrivalId_fkey" FOREIGN KEY ("arrivalId") REFERENCES "Arrival"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "QuarantineStay" ADD CONSTRAINT "QuarantineStay_placeId_fkey" FOREIGN KEY ("placeId") REFERENCES "QuarantinePlace"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "WatchMeasurement" ADD CONSTRAINT "WatchMeasurement_arrivalId_fkey" FOREIGN KEY ("arrivalId") REFERENCES "Arrival"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PackPhoto" ADD CONSTRAINT "PackPhoto_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Incident" ADD CONSTRAINT "Incident_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Incident" ADD CONSTRAINT "Incident_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Incident" ADD CONSTRAINT "Incident_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "IncidentEntry" ADD CONSTRAINT "IncidentEntry_incidentId_fkey" FOREIGN KEY ("incidentId") REFERENCES "Incident"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "IncidentClosing" ADD CONSTRAINT "IncidentClosing_incidentId_fkey" FOREIGN KEY ("incidentId") REFERENCES "Incident"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ClassDeclaration" ADD CONSTRAINT "ClassDeclaration_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SendingLeave" ADD CONSTRAINT "SendingLeave_declarationId_fkey" FOREIGN KEY ("declarationId") REFERENCES "ClassDeclaration"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PrintedSheet" ADD CONSTRAINT "PrintedSheet_declarationId_fkey" FOREIGN KEY ("declarationId") REFERENCES "ClassDeclaration"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- Checks
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "TransportRuleConfirmation"
  ADD CONSTRAINT "TransportRuleConfirmation_fingerprint" CHECK ("fingerprint" ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT "TransportRuleConfirmation_words" CHECK (
    length("adviserName") >= 3 AND length("adviserQualification") >= 3 AND length("statement") >= 10);

ALTER TABLE "ClassDeclaration"
  ADD CONSTRAINT "ClassDeclaration_class" CHECK ("transportClass" IN ('do-not-ship', 'damaged', 'not-damaged')
    AND "proposedClass" IN ('do-not-ship', 'damaged', 'not-damaged')),
  ADD CONSTRAINT "ClassDeclaration_safety" CHECK ("proposedSafety" IN ('A0', 'A1', 'B', 'U', 'C')),
  -- Nobody calls a pack sound that the program could not: the last line of defence of the rule in lib/transport.
  ADD CONSTRAINT "ClassDeclaration_never_sound_by_default" CHECK (
    "transportClass" <> 'not-damaged' OR ("proposedClass" = 'not-damaged' AND "proposedSafety" = 'C' AND cardinality("notDiagnosed") = 0)),
  ADD CONSTRAINT "ClassDeclaration_sequence" CHECK ("sequence" >= 1),
  ADD CONSTRAINT "ClassDeclaration_reason" CHECK (length("reason") BETWEEN 10 AND 2000);

ALTER TABLE "SendingLeave" ADD CONSTRAINT "SendingLeave_span" CHECK ("expiresAt" > "givenAt");

ALTER TABLE "PrintedSheet" ADD CONSTRAINT "PrintedSheet_kind" CHECK (
  "kind" IN ('label', 'traveller', 'packing-sheet', 'used-battery-statement'));

ALTER TABLE "IncidentEntry"
  ADD CONSTRAINT "IncidentEntry_sequence" CHECK ("sequence" >= 1),
  ADD CONSTRAINT "IncidentEntry_kind" CHECK (
    "kind" IN ('knowledge', 'flags', 'place', 'checklist', 'pattern', 'determination', 'decision', 'closed'));

ALTER TABLE "QuarantinePlace" ADD CONSTRAINT "QuarantinePlace_limits" CHECK (
  "maxPacks" BETWEEN 1 AND 10000 AND "maxEnergyKwh" > 0 AND "minimumHours" BETWEEN 1 AND 8760
  AND "overdueAfterHours" > "minimumHours");

ALTER TABLE "Arrival"
  ADD CONSTRAINT "Arrival_identity" CHECK ("identity" IN ('match', 'other-pack', 'unreadable')
    AND ("identity" = 'unreadable') = ("foundSerial" IS NULL)),
  ADD CONSTRAINT "Arrival_box" CHECK ("boxCondition" IN ('sound', 'damaged', 'opened', 'wet', 'wrong-packing'));

ALTER TABLE "QuarantineStay"
  ADD CONSTRAINT "QuarantineStay_energy" CHECK ("energyKwh" > 0),
  ADD CONSTRAINT "QuarantineStay_release" CHECK (("releasedAt" IS NULL) = ("releasedByUserId" IS NULL)
    AND ("releasedAt" IS NULL OR "releasedAt" >= "placedAt"));
-- A pack lies in one place at a time.
CREATE UNIQUE INDEX "QuarantineStay_one_open_per_arrival" ON "QuarantineStay" ("arrivalId") WHERE "releasedAt" IS NULL;

ALTER TABLE "WatchMeasurement" ADD CONSTRAINT "WatchMeasurement_values" CHECK (
  "surfaceC" BETWEEN -60 AND 1200 AND "ambientC" BETWEEN -60 AND 80 AND ("terminalV" IS NULL OR "terminalV" BETWEEN 0 AND 2000));

ALTER TABLE "PackPhoto"
  ADD CONSTRAINT "PackPhoto_hashes" CHECK ("originalSha256" ~ '^[0-9a-f]{64}$' AND "keptSha256" ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT "PackPhoto_size" CHECK ("widthPixels" >= 1 AND "heightPixels" >= 1 AND "sharpness" >= 0);

-- The running number in an incident's reference.
CREATE SEQUENCE "incident_reference_number";

-- ---------------------------------------------------------------------------------------------------------------
-- Written once
-- ---------------------------------------------------------------------------------------------------------------
DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['TransportRuleConfirmation', 'ClassDeclaration', 'SendingLeave', 'PrintedSheet', 'Incident',
    'IncidentEntry', 'IncidentClosing', 'Arrival', 'IdentitySettlement', 'WatchMeasurement', 'PackPhoto']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION "refuse_change"()',
      t || '_written_once', t);
  END LOOP;
END $$;

CREATE FUNCTION "refuse_stay_change"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD."releasedAt" IS NOT NULL THEN
    RAISE EXCEPTION 'a stay in quarantine ends once and is never removed' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "QuarantineStay_ends_once" BEFORE UPDATE OR DELETE ON "QuarantineStay"
  FOR EACH ROW EXECUTE FUNCTION "refuse_stay_change"();

-- ---------------------------------------------------------------------------------------------------------------
-- Walls. What a dealer may see: the class of its own returns, leave and prints, and that an incident is open on its own
-- return. Why, what counsel said, where a pack lies and what it looked like is the house's; finance needs none of it.
-- ---------------------------------------------------------------------------------------------------------------
GRANT SELECT, INSERT ON "TransportRuleConfirmation", "ClassDeclaration", "SendingLeave", "PrintedSheet", "Incident",
  "IncidentEntry", "IncidentClosing", "ClockHoliday", "QuarantinePlace", "Arrival", "IdentitySettlement",
  "QuarantineStay", "WatchMeasurement", "PackPhoto" TO bench_actor;
GRANT UPDATE ("releasedAt", "releasedByUserId", "releasedByName") ON "QuarantineStay" TO bench_actor;
GRANT UPDATE ON "QuarantinePlace" TO bench_actor;
GRANT DELETE ON "ClockHoliday" TO bench_actor;
GRANT USAGE ON SEQUENCE "incident_reference_number" TO bench_actor;

CREATE FUNCTION "bench_keeps_safety"() RETURNS boolean LANGUAGE sql STABLE AS
  $$ SELECT bench_role() IN ('safety-officer', 'system') $$;
CREATE FUNCTION "bench_declares_class"() RETURNS boolean LANGUAGE sql STABLE AS
  $$ SELECT bench_role() IN ('service-lead', 'manager', 'safety-officer', 'system') $$;

DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['TransportRuleConfirmation', 'ClassDeclaration', 'SendingLeave', 'PrintedSheet', 'Incident',
    'IncidentEntry', 'IncidentClosing', 'ClockHoliday', 'QuarantinePlace', 'Arrival', 'IdentitySettlement',
    'QuarantineStay', 'WatchMeasurement', 'PackPhoto']
  LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
  END LOOP;
  -- Goods-in and quarantine: the bench's own.
  FOREACH t IN ARRAY ARRAY['Arrival', 'IdentitySettlement', 'QuarantineStay', 'WatchMeasurement', 'PackPhoto']
  LOOP
    EXECUTE format('CREATE POLICY "house" ON %I USING (bench_sees_build()) WITH CHECK (bench_sees_build())', t);
  END LOOP;
  -- Settings the safety officer keeps and the bench reads.
  FOREACH t IN ARRAY ARRAY['QuarantinePlace', 'ClockHoliday']
  LOOP
    EXECUTE format('CREATE POLICY "read_by_house" ON %I FOR SELECT USING (bench_sees_build())', t);
    EXECUTE format('CREATE POLICY "kept_by_safety" ON %I FOR ALL USING (bench_keeps_safety()) WITH CHECK (bench_keeps_safety())', t);
  END LOOP;
END $$;

CREATE POLICY "read_by_all" ON "TransportRuleConfirmation" FOR SELECT USING (true);
CREATE POLICY "kept_by_safety" ON "TransportRuleConfirmation" FOR INSERT WITH CHECK (bench_keeps_safety());

CREATE POLICY "read_with_its_return" ON "ClassDeclaration" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "ClassDeclaration"."returnId"));
CREATE POLICY "declared_by_house" ON "ClassDeclaration" FOR INSERT WITH CHECK (bench_declares_class());

CREATE POLICY "read_with_its_declaration" ON "SendingLeave" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "ClassDeclaration" d WHERE d."id" = "SendingLeave"."declarationId"));
CREATE POLICY "given_by_house" ON "SendingLeave" FOR INSERT WITH CHECK (bench_sees_build());

CREATE POLICY "with_its_declaration" ON "PrintedSheet"
  USING (EXISTS (SELECT 1 FROM "ClassDeclaration" d WHERE d."id" = "PrintedSheet"."declarationId"))
  WITH CHECK (EXISTS (SELECT 1 FROM "ClassDeclaration" d WHERE d."id" = "PrintedSheet"."declarationId"));

CREATE POLICY "own_dealer" ON "Incident" USING (bench_sees_build() OR "dealerId" = bench_dealer())
  WITH CHECK (bench_sees_build() OR "dealerId" = bench_dealer());

CREATE POLICY "read_by_those_who_answer" ON "IncidentEntry" FOR SELECT
  USING (bench_role() IN ('service-lead', 'manager', 'safety-officer', 'system'));
-- Anyone tells what they know; what is decided about it is the safety officer's.
CREATE POLICY "told_by_all_decided_by_safety" ON "IncidentEntry" FOR INSERT
  WITH CHECK (EXISTS (SELECT 1 FROM "Incident" i WHERE i."id" = "IncidentEntry"."incidentId")
    AND ("kind" IN ('knowledge', 'flags', 'place') OR bench_keeps_safety()
      OR ("kind" IN ('checklist', 'pattern') AND bench_role() IN ('service-lead', 'manager'))));

CREATE POLICY "read_with_its_incident" ON "IncidentClosing" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "Incident" i WHERE i."id" = "IncidentClosing"."incidentId"));
CREATE POLICY "closed_by_safety" ON "IncidentClosing" FOR INSERT WITH CHECK (bench_keeps_safety());
