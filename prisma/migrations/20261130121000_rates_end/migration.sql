-- Rates of a country in one currency end on a day: after a change of currency nobody has the choice of the better of two.
-- CreateTable
CREATE TABLE "SettlementRateEnd" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "country" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "endsOn" DATE NOT NULL,
    "why" TEXT NOT NULL,
    "setByUserId" TEXT NOT NULL,
    "setByName" TEXT NOT NULL,
    "setAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SettlementRateEnd_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "SettlementRateEnd_kind_country_currency_endsOn_key" ON "SettlementRateEnd"("kind", "country", "currency", "endsOn");

ALTER TABLE "SettlementRateEnd"
  ADD CONSTRAINT "SettlementRateEnd_values" CHECK ("kind" IN ('labour', 'freight') AND "country" ~ '^[A-Z]{2}$'
    AND "currency" ~ '^[A-Z]{3}$' AND char_length(trim("why")) BETWEEN 3 AND 300);
CREATE TRIGGER "SettlementRateEnd_written_once" BEFORE UPDATE OR DELETE ON "SettlementRateEnd"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
ALTER TABLE "SettlementRateEnd" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "SettlementRateEnd" FORCE ROW LEVEL SECURITY;
CREATE POLICY "ends_for_all" ON "SettlementRateEnd" FOR SELECT USING (true);
CREATE POLICY "ends_by_finance" ON "SettlementRateEnd" FOR INSERT WITH CHECK (bench_role() IN ('finance', 'system'));
GRANT SELECT, INSERT ON "SettlementRateEnd" TO bench_actor;
