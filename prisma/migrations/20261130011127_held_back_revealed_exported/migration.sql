-- CreateTable
CREATE TABLE "AffectedSet" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "by" TEXT NOT NULL,
    "group" TEXT NOT NULL,
    "fromSerial" TEXT,
    "toSerial" TEXT,
    "why" TEXT NOT NULL,
    "createdByUserId" TEXT NOT NULL,
    "createdByName" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "AffectedSet_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "AffectedSetPack" (
    "setId" UUID NOT NULL,
    "packId" UUID NOT NULL,

    CONSTRAINT "AffectedSetPack_pkey" PRIMARY KEY ("setId","packId")
);

-- CreateTable
CREATE TABLE "AffectedSetEvent" (
    "id" UUID NOT NULL,
    "setId" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "why" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "byRole" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "AffectedSetEvent_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ExportTaken" (
    "id" UUID NOT NULL,
    "what" TEXT NOT NULL,
    "choice" JSONB NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "byRole" TEXT NOT NULL,
    "dealerId" UUID,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "ExportTaken_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SafetyContact" (
    "returnId" UUID NOT NULL,
    "sealed" TEXT NOT NULL,
    "givenAt" TIMESTAMPTZ(3) NOT NULL,
    "givenByUserId" TEXT NOT NULL,
    "givenByName" TEXT NOT NULL,

    CONSTRAINT "SafetyContact_pkey" PRIMARY KEY ("returnId")
);

-- CreateTable
CREATE TABLE "SafetyContactKey" (
    "returnId" UUID NOT NULL,
    "key" TEXT NOT NULL,

    CONSTRAINT "SafetyContactKey_pkey" PRIMARY KEY ("returnId")
);

-- CreateTable
CREATE TABLE "SafetyContactReveal" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "why" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "byRole" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SafetyContactReveal_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "AffectedSet_number_key" ON "AffectedSet"("number");

-- CreateIndex
CREATE INDEX "AffectedSetPack_packId_idx" ON "AffectedSetPack"("packId");

-- CreateIndex
CREATE UNIQUE INDEX "AffectedSetEvent_setId_sequence_key" ON "AffectedSetEvent"("setId", "sequence");

-- CreateIndex
CREATE INDEX "ExportTaken_at_idx" ON "ExportTaken"("at");

-- CreateIndex
CREATE INDEX "SafetyContactReveal_returnId_idx" ON "SafetyContactReveal"("returnId");

-- AddForeignKey
ALTER TABLE "AffectedSetPack" ADD CONSTRAINT "AffectedSetPack_setId_fkey" FOREIGN KEY ("setId") REFERENCES "AffectedSet"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "AffectedSetPack" ADD CONSTRAINT "AffectedSetPack_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "AffectedSetEvent" ADD CONSTRAINT "AffectedSetEvent_setId_fkey" FOREIGN KEY ("setId") REFERENCES "AffectedSet"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SafetyContact" ADD CONSTRAINT "SafetyContact_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SafetyContactKey" ADD CONSTRAINT "SafetyContactKey_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SafetyContactReveal" ADD CONSTRAINT "SafetyContactReveal_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "SafetyContact"("returnId") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "AffectedSet"
  ADD CONSTRAINT "AffectedSet_number" CHECK ("number" >= 1),
  ADD CONSTRAINT "AffectedSet_why" CHECK (char_length(trim("why")) BETWEEN 10 AND 2000);
ALTER TABLE "AffectedSetEvent"
  ADD CONSTRAINT "AffectedSetEvent_kind" CHECK ("kind" IN ('proposed', 'frozen', 'dropped', 'stopped', 'let-go')),
  ADD CONSTRAINT "AffectedSetEvent_sequence" CHECK ("sequence" >= 1),
  ADD CONSTRAINT "AffectedSetEvent_why" CHECK (char_length(trim("why")) BETWEEN 3 AND 2000);
ALTER TABLE "SafetyContactReveal"
  ADD CONSTRAINT "SafetyContactReveal_why" CHECK (char_length(trim("why")) BETWEEN 10 AND 500);
CREATE SEQUENCE "affected_set_number";

DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['AffectedSet', 'AffectedSetPack', 'AffectedSetEvent', 'ExportTaken', 'SafetyContact',
    'SafetyContactKey', 'SafetyContactReveal']
  LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
  END LOOP;
  FOREACH t IN ARRAY ARRAY['AffectedSet', 'AffectedSetPack', 'AffectedSetEvent', 'ExportTaken', 'SafetyContactReveal']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION "refuse_change"()',
      t || '_written_once', t);
  END LOOP;
END $$;

GRANT SELECT, INSERT ON "AffectedSet", "AffectedSetPack", "AffectedSetEvent", "ExportTaken", "SafetyContactReveal" TO bench_actor;
GRANT SELECT, INSERT, UPDATE ON "SafetyContact" TO bench_actor;
GRANT SELECT, INSERT, UPDATE, DELETE ON "SafetyContactKey" TO bench_actor;
GRANT USAGE ON SEQUENCE "affected_set_number" TO bench_actor;

-- The bench sees which packs are held back; those who may propose a set write it; what holds packs back or lets them go is the
-- manager's and the safety officer's.
CREATE POLICY "read_by_house" ON "AffectedSet" FOR SELECT USING (bench_sees_build());
CREATE POLICY "read_by_house" ON "AffectedSetPack" FOR SELECT USING (bench_sees_build());
CREATE POLICY "read_by_house" ON "AffectedSetEvent" FOR SELECT USING (bench_sees_build());
CREATE POLICY "proposed" ON "AffectedSet" FOR INSERT
  WITH CHECK (bench_role() IN ('service-lead', 'manager', 'safety-officer', 'system'));
CREATE POLICY "proposed" ON "AffectedSetPack" FOR INSERT
  WITH CHECK (bench_role() IN ('service-lead', 'manager', 'safety-officer', 'system'));
CREATE POLICY "settled" ON "AffectedSetEvent" FOR INSERT
  WITH CHECK (bench_role() IN ('manager', 'safety-officer', 'system')
    OR ("kind" = 'proposed' AND bench_role() = 'service-lead'));

-- Whoever takes a file leaves the entry; managers and the administrator read them.
CREATE POLICY "left_by_all" ON "ExportTaken" FOR INSERT
  WITH CHECK (bench_role() <> '' AND "dealerId" IS NOT DISTINCT FROM bench_dealer());
CREATE POLICY "read_by_those_in_charge" ON "ExportTaken" FOR SELECT
  USING (bench_role() IN ('manager', 'administrator', 'system'));

-- A contact is its dealer's own. The house sees that there is one; the key comes out in the transaction that leaves the entry, as
-- the system.
CREATE POLICY "own_dealer" ON "SafetyContact" FOR ALL
  USING (bench_role() IN ('service-lead', 'safety-officer', 'system') OR EXISTS (
    SELECT 1 FROM "Return" r WHERE r."id" = "SafetyContact"."returnId" AND r."dealerId" = bench_dealer()))
  WITH CHECK (bench_role() = 'system' OR EXISTS (
    SELECT 1 FROM "Return" r WHERE r."id" = "SafetyContact"."returnId" AND r."dealerId" = bench_dealer()));
CREATE POLICY "own_dealer" ON "SafetyContactKey" FOR ALL
  USING (bench_role() = 'system' OR EXISTS (
    SELECT 1 FROM "Return" r WHERE r."id" = "SafetyContactKey"."returnId" AND r."dealerId" = bench_dealer()))
  WITH CHECK (bench_role() = 'system' OR EXISTS (
    SELECT 1 FROM "Return" r WHERE r."id" = "SafetyContactKey"."returnId" AND r."dealerId" = bench_dealer()));
-- The dealer reads who looked; the house too, but for the technician and finance.
CREATE POLICY "read_by_dealer_and_those_in_charge" ON "SafetyContactReveal" FOR SELECT
  USING (bench_role() IN ('service-lead', 'manager', 'safety-officer', 'system') OR EXISTS (
    SELECT 1 FROM "Return" r WHERE r."id" = "SafetyContactReveal"."returnId" AND r."dealerId" = bench_dealer()));
CREATE POLICY "left_by_whoever_looks" ON "SafetyContactReveal" FOR INSERT WITH CHECK (bench_role() = 'system');
