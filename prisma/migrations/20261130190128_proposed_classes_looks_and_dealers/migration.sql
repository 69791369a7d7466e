-- AlterTable
ALTER TABLE "ClassDeclaration" ADD COLUMN     "answersId" UUID;

-- AlterTable
ALTER TABLE "Dealer" ADD COLUMN     "addedAt" TIMESTAMPTZ(3),
ADD COLUMN     "addedByName" TEXT,
ADD COLUMN     "addedByUserId" TEXT;

-- CreateTable
CREATE TABLE "ProposedClass" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "leg" TEXT NOT NULL,
    "stockPackId" UUID,
    "afterDeclaration" INTEGER NOT NULL,
    "transportClass" TEXT NOT NULL,
    "criteria" JSONB NOT NULL,
    "inEquipment" BOOLEAN NOT NULL,
    "consignee" TEXT,
    "reason" TEXT NOT NULL,
    "proposedByUserId" TEXT NOT NULL,
    "proposedByName" TEXT NOT NULL,
    "proposedByRole" TEXT NOT NULL,
    "proposedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "ProposedClass_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "EmergencyLook" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "openedByUserId" TEXT NOT NULL,
    "openedByName" TEXT NOT NULL,
    "openedAt" TIMESTAMPTZ(3) NOT NULL,
    "endsAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "EmergencyLook_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "EmergencyLookPage" (
    "id" UUID NOT NULL,
    "lookId" UUID NOT NULL,
    "shownAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "EmergencyLookPage_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "ProposedClass_returnId_leg_idx" ON "ProposedClass"("returnId", "leg");

-- CreateIndex
CREATE INDEX "ProposedClass_stockPackId_idx" ON "ProposedClass"("stockPackId");

-- CreateIndex
CREATE INDEX "EmergencyLook_openedByUserId_openedAt_idx" ON "EmergencyLook"("openedByUserId", "openedAt");

-- CreateIndex
CREATE INDEX "EmergencyLook_returnId_idx" ON "EmergencyLook"("returnId");

-- CreateIndex
CREATE INDEX "EmergencyLookPage_lookId_idx" ON "EmergencyLookPage"("lookId");

-- CreateIndex
CREATE INDEX "ClassDeclaration_answersId_idx" ON "ClassDeclaration"("answersId");

-- AddForeignKey
ALTER TABLE "ProposedClass" ADD CONSTRAINT "ProposedClass_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ProposedClass" ADD CONSTRAINT "ProposedClass_stockPackId_fkey" FOREIGN KEY ("stockPackId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ClassDeclaration" ADD CONSTRAINT "ClassDeclaration_answersId_fkey" FOREIGN KEY ("answersId") REFERENCES "ProposedClass"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "EmergencyLook" ADD CONSTRAINT "EmergencyLook_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "EmergencyLookPage" ADD CONSTRAINT "EmergencyLookPage_lookId_fkey" FOREIGN KEY ("lookId") REFERENCES "EmergencyLook"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "ProposedClass"
  ADD CONSTRAINT "ProposedClass_values" CHECK ("leg" IN ('to-maker', 'to-dealer', 'unit-to-maker', 'to-supplier')
    AND "transportClass" IN ('do-not-ship', 'damaged', 'not-damaged') AND "afterDeclaration" >= 0
    AND ("stockPackId" IS NULL OR "leg" IN ('to-dealer', 'unit-to-maker'))
    AND length("reason") BETWEEN 10 AND 2000);
ALTER TABLE "EmergencyLook"
  ADD CONSTRAINT "EmergencyLook_reason" CHECK (length(trim("reason")) BETWEEN 20 AND 1000),
  -- An hour at the most, whatever the program allows.
  ADD CONSTRAINT "EmergencyLook_short" CHECK ("endsAt" > "openedAt" AND "endsAt" <= "openedAt" + interval '1 hour');

DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['ProposedClass', 'EmergencyLook', 'EmergencyLookPage']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION "refuse_change"()',
      t || '_written_once', t);
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
    EXECUTE format('GRANT SELECT, INSERT ON %I TO bench_actor', t);
  END LOOP;
END $$;

CREATE POLICY "house" ON "ProposedClass" USING (bench_sees_build()) WITH CHECK (bench_sees_build());

-- Whoever proposed a class does not declare it.
CREATE FUNCTION "declared_by_another"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW."answersId" IS NOT NULL AND NOT EXISTS (SELECT 1 FROM "ProposedClass" p WHERE p."id" = NEW."answersId"
    AND p."returnId" = NEW."returnId" AND p."leg" = NEW."leg" AND p."proposedByUserId" <> NEW."declaredByUserId") THEN
    RAISE EXCEPTION 'a proposed class is declared by another person, for the same way' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "ClassDeclaration_by_another" BEFORE INSERT ON "ClassDeclaration"
  FOR EACH ROW EXECUTE FUNCTION "declared_by_another"();

-- An administrator sees no case; what is looked at is read by the system, which writes these entries. Managers read them too.
CREATE POLICY "read_by_those_in_charge" ON "EmergencyLook" FOR SELECT
  USING (bench_role() IN ('manager', 'administrator', 'system'));
CREATE POLICY "opened_by_the_system" ON "EmergencyLook" FOR INSERT WITH CHECK (bench_role() = 'system');
CREATE POLICY "read_by_those_in_charge" ON "EmergencyLookPage" FOR SELECT
  USING (bench_role() IN ('manager', 'administrator', 'system'));
CREATE POLICY "shown_by_the_system" ON "EmergencyLookPage" FOR INSERT WITH CHECK (bench_role() = 'system');

-- Dealers are added by the administrator alone; the house reads them.
DROP POLICY "own_dealer" ON "Dealer";
CREATE POLICY "own_dealer" ON "Dealer" FOR SELECT
  USING (bench_sees_all() OR bench_role() = 'administrator' OR "id" = bench_dealer());
GRANT INSERT ON "Dealer" TO bench_actor;
CREATE POLICY "added_by_administrator" ON "Dealer" FOR INSERT WITH CHECK (bench_role() IN ('administrator', 'system'));
CREATE POLICY "changed_by_the_system" ON "Dealer" FOR UPDATE USING (bench_role() = 'system') WITH CHECK (bench_role() = 'system');
CREATE POLICY "taken_back_by_the_system" ON "Dealer" FOR DELETE USING (bench_role() = 'system');

ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'wrong-pack-came', 'wait-to-send', 'class-needed', 'class-proposed', 'decided', 'sent-back',
  'carried-out', 'credited', 'safety', 'danger-raised', 'lapse-proposed', 'quarantine-overdue', 'measurement-overdue',
  'set-held-back', 'own-held-back', 'stop-opened', 'early-signal', 'incident-call', 'question-overdue', 'help', 'solved', 'lapsed',
  'merged', 'old-pack', 'comes-back', 'comes-back-overdue', 'your-turn', 'refund-to-pay', 'second-needed', 'objected',
  'cover-anew', 'readings-came', 'proof-sent', 'emergency-look'));
