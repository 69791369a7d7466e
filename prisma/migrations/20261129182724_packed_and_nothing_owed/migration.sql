-- AlterTable
ALTER TABLE "Return" ADD COLUMN     "dueCheckedAt" TIMESTAMPTZ(3);

-- CreateTable
CREATE TABLE "NothingOwed" (
    "returnId" UUID NOT NULL,
    "why" TEXT NOT NULL,
    "statedByUserId" TEXT NOT NULL,
    "statedByName" TEXT NOT NULL,
    "statedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "NothingOwed_pkey" PRIMARY KEY ("returnId")
);

-- CreateTable
CREATE TABLE "PackingCheck" (
    "declarationId" UUID NOT NULL,
    "points" TEXT[],
    "checkedByUserId" TEXT NOT NULL,
    "checkedByName" TEXT NOT NULL,
    "checkedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "PackingCheck_pkey" PRIMARY KEY ("declarationId")
);

-- AddForeignKey
ALTER TABLE "NothingOwed" ADD CONSTRAINT "NothingOwed_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PackingCheck" ADD CONSTRAINT "PackingCheck_declarationId_fkey" FOREIGN KEY ("declarationId") REFERENCES "ClassDeclaration"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "PackingCheck" ADD CONSTRAINT "PackingCheck_points" CHECK (cardinality("points") >= 1);
ALTER TABLE "NothingOwed" ADD CONSTRAINT "NothingOwed_why" CHECK (char_length("why") >= 3);

CREATE TRIGGER "PackingCheck_written_once" BEFORE UPDATE OR DELETE ON "PackingCheck"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
CREATE TRIGGER "NothingOwed_written_once" BEFORE UPDATE OR DELETE ON "NothingOwed"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();

ALTER TABLE "PackingCheck" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "PackingCheck" FORCE ROW LEVEL SECURITY;
ALTER TABLE "NothingOwed" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "NothingOwed" FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT ON "PackingCheck", "NothingOwed" TO bench_actor;

-- Whoever packs ticks: the dealer whose return it is.
CREATE POLICY "read_with_its_declaration" ON "PackingCheck" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "ClassDeclaration" d WHERE d."id" = "PackingCheck"."declarationId"));
CREATE POLICY "ticked_by_its_dealer" ON "PackingCheck" FOR INSERT WITH CHECK (
  bench_role() = 'system' OR EXISTS (
    SELECT 1 FROM "ClassDeclaration" d JOIN "Return" r ON r."id" = d."returnId"
    WHERE d."id" = "PackingCheck"."declarationId" AND r."dealerId" = bench_dealer()));

CREATE POLICY "read_with_its_return" ON "NothingOwed" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "NothingOwed"."returnId"));
CREATE POLICY "stated_by_the_house" ON "NothingOwed" FOR INSERT
  WITH CHECK (bench_role() IN ('service-lead', 'manager', 'finance', 'system'));

-- Of the photographs a dealer takes and sees those of the packed box, of its own returns; all others stay the bench's.
CREATE POLICY "packed_box_of_its_dealer" ON "PackPhoto"
  USING ("view" IN ('packed-open', 'packed-closed')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer()))
  WITH CHECK ("view" IN ('packed-open', 'packed-closed')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "PackPhoto"."returnId" AND r."dealerId" = bench_dealer()));

-- What the program tells of since.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'decided', 'sent-back', 'credited', 'safety', 'lapse-proposed', 'quarantine-overdue',
  'incident-call', 'question-overdue'));

-- A country may have rates in more than one currency.
DROP INDEX "SettlementRate_kind_country_validFrom_key";
CREATE UNIQUE INDEX "SettlementRate_kind_country_currency_validFrom_key" ON "SettlementRate"("kind", "country", "currency", "validFrom");
