-- AlterTable
ALTER TABLE "Return" ADD COLUMN     "coverSettlementEndsOn" DATE,
ADD COLUMN     "coverSettlementStartsOn" DATE;

-- AlterTable
ALTER TABLE "User" ADD COLUMN     "noticeLanguage" TEXT;

-- CreateTable
CREATE TABLE "Notice" (
    "id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "reference" TEXT NOT NULL,
    "returnId" UUID,
    "dealerId" UUID,
    "audienceRole" TEXT,
    "until" DATE,
    "queuedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "addressedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Notice_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "NoticeLetter" (
    "id" UUID NOT NULL,
    "noticeId" UUID NOT NULL,
    "userId" TEXT NOT NULL,
    "address" TEXT NOT NULL,
    "language" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "nextAttemptAt" TIMESTAMPTZ(3) NOT NULL,
    "lastProblem" TEXT,
    "sentAt" TIMESTAMPTZ(3),

    CONSTRAINT "NoticeLetter_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "LegalNoticeShown" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "country" TEXT NOT NULL,
    "textVersion" TEXT NOT NULL,
    "text" TEXT NOT NULL,
    "choice" TEXT,
    "shownAt" TIMESTAMPTZ(3) NOT NULL,
    "shownByUserId" TEXT NOT NULL,
    "shownByName" TEXT NOT NULL,

    CONSTRAINT "LegalNoticeShown_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SettlementRate" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "country" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "amountMinor" INTEGER NOT NULL,
    "validFrom" DATE NOT NULL,
    "setByUserId" TEXT NOT NULL,
    "setByName" TEXT NOT NULL,
    "setAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SettlementRate_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SettlementLine" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "dealerId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "operation" TEXT NOT NULL DEFAULT '',
    "minutes" INTEGER,
    "rateId" UUID,
    "currency" TEXT NOT NULL,
    "amountMinor" INTEGER NOT NULL,
    "state" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "clientKey" UUID NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "claimedByUserId" TEXT NOT NULL,
    "claimedByName" TEXT NOT NULL,
    "claimedAt" TIMESTAMPTZ(3) NOT NULL,
    "approvedByUserId" TEXT,
    "approvedByName" TEXT,
    "statementId" UUID,
    "reversesLineId" UUID,

    CONSTRAINT "SettlementLine_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SettlementMove" (
    "id" UUID NOT NULL,
    "lineId" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "from" TEXT,
    "to" TEXT NOT NULL,
    "actorUserId" TEXT NOT NULL,
    "actorName" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SettlementMove_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SettlementStatement" (
    "id" UUID NOT NULL,
    "number" SERIAL NOT NULL,
    "dealerId" UUID NOT NULL,
    "currency" TEXT NOT NULL,
    "totalMinor" INTEGER NOT NULL,
    "closedAt" TIMESTAMPTZ(3) NOT NULL,
    "closedByUserId" TEXT NOT NULL,
    "closedByName" TEXT NOT NULL,
    "paymentReference" TEXT,
    "paidAt" TIMESTAMPTZ(3),
    "paidByUserId" TEXT,

    CONSTRAINT "SettlementStatement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SettlementPayment" (
    "lineId" UUID NOT NULL,
    "statementId" UUID NOT NULL,
    "amountMinor" INTEGER NOT NULL,
    "paidAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SettlementPayment_pkey" PRIMARY KEY ("lineId")
);

-- CreateIndex
CREATE UNIQUE INDEX "Notice_key_key" ON "Notice"("key");

-- CreateIndex
CREATE INDEX "Notice_dealerId_queuedAt_idx" ON "Notice"("dealerId", "queuedAt");

-- CreateIndex
CREATE INDEX "Notice_returnId_idx" ON "Notice"("returnId");

-- CreateIndex
CREATE INDEX "Notice_addressedAt_idx" ON "Notice"("addressedAt");

-- CreateIndex
CREATE INDEX "NoticeLetter_state_nextAttemptAt_idx" ON "NoticeLetter"("state", "nextAttemptAt");

-- CreateIndex
CREATE UNIQUE INDEX "NoticeLetter_noticeId_userId_key" ON "NoticeLetter"("noticeId", "userId");

-- CreateIndex
CREATE INDEX "LegalNoticeShown_returnId_idx" ON "LegalNoticeShown"("returnId");

-- CreateIndex
CREATE UNIQUE INDEX "SettlementRate_kind_country_validFrom_key" ON "SettlementRate"("kind", "country", "validFrom");

-- CreateIndex
CREATE UNIQUE INDEX "SettlementLine_reversesLineId_key" ON "SettlementLine"("reversesLineId");

-- CreateIndex
CREATE INDEX "SettlementLine_returnId_idx" ON "SettlementLine"("returnId");

-- CreateIndex
CREATE INDEX "SettlementLine_dealerId_state_idx" ON "SettlementLine"("dealerId", "state");

-- CreateIndex
CREATE INDEX "SettlementLine_statementId_idx" ON "SettlementLine"("statementId");

-- CreateIndex
CREATE INDEX "SettlementLine_rateId_idx" ON "SettlementLine"("rateId");

-- CreateIndex
CREATE UNIQUE INDEX "SettlementLine_dealerId_clientKey_key" ON "SettlementLine"("dealerId", "clientKey");

-- CreateIndex
CREATE UNIQUE INDEX "SettlementMove_lineId_version_key" ON "SettlementMove"("lineId", "version");

-- CreateIndex
CREATE UNIQUE INDEX "SettlementStatement_number_key" ON "SettlementStatement"("number");

-- CreateIndex
CREATE UNIQUE INDEX "SettlementStatement_paymentReference_key" ON "SettlementStatement"("paymentReference");

-- CreateIndex
CREATE INDEX "SettlementStatement_dealerId_idx" ON "SettlementStatement"("dealerId");

-- CreateIndex
CREATE INDEX "SettlementPayment_statementId_idx" ON "SettlementPayment"("statementId");

-- AddForeignKey
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "NoticeLetter" ADD CONSTRAINT "NoticeLetter_noticeId_fkey" FOREIGN KEY ("noticeId") REFERENCES "Notice"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LegalNoticeShown" ADD CONSTRAINT "LegalNoticeShown_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SettlementLine" ADD CONSTRAINT "SettlementLine_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SettlementLine" ADD CONSTRAINT "SettlementLine_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SettlementLine" ADD CONSTRAINT "SettlementLine_rateId_fkey" FOREIGN KEY ("rateId") REFERENCES "SettlementRate"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SettlementLine" ADD CONSTRAINT "SettlementLine_statementId_fkey" FOREIGN KEY ("statementId") REFERENCES "SettlementStatement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SettlementLine" ADD CONSTRAINT "SettlementLine_reversesLineId_fkey" FOREIGN KEY ("reversesLineId") REFERENCES "SettlementLine"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SettlementMove" ADD CONSTRAINT "SettlementMove_lineId_fkey" FOREIGN KEY ("lineId") REFERENCES "SettlementLine"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SettlementStatement" ADD CONSTRAINT "SettlementStatement_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SettlementPayment" ADD CONSTRAINT "SettlementPayment_lineId_fkey" FOREIGN KEY ("lineId") REFERENCES "SettlementLine"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SettlementPayment" ADD CONSTRAINT "SettlementPayment_statementId_fkey" FOREIGN KEY ("statementId") REFERENCES "SettlementStatement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- Checks
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "User" ADD CONSTRAINT "User_notice_language" CHECK ("noticeLanguage" IN ('en', 'de', 'es'));

ALTER TABLE "SettlementRate"
  ADD CONSTRAINT "SettlementRate_values" CHECK ("kind" IN ('labour', 'freight') AND "country" ~ '^[A-Z]{2}$'
    AND "currency" ~ '^[A-Z]{3}$' AND "amountMinor" BETWEEN 1 AND 100000000);

ALTER TABLE "SettlementLine"
  ADD CONSTRAINT "SettlementLine_values" CHECK ("kind" IN ('labour', 'freight', 'reversal') AND "currency" ~ '^[A-Z]{3}$'
    AND ("kind" = 'labour') = ("minutes" IS NOT NULL) AND ("kind" = 'reversal') = ("reversesLineId" IS NOT NULL)
    AND ("kind" = 'reversal') = ("rateId" IS NULL)
    AND (CASE WHEN "kind" = 'reversal' THEN "amountMinor" < 0 ELSE "amountMinor" > 0 END)),
  ADD CONSTRAINT "SettlementLine_state" CHECK (
    "state" IN ('claimed', 'checked', 'approved', 'in-statement', 'paid', 'refused')
    AND ("state" IN ('in-statement', 'paid')) = ("statementId" IS NOT NULL)
    AND ("state" NOT IN ('approved', 'in-statement', 'paid') OR "approvedByUserId" IS NOT NULL)),
  -- The person approving is never the person who lodged.
  ADD CONSTRAINT "SettlementLine_two_people" CHECK ("approvedByUserId" IS NULL OR "approvedByUserId" <> "claimedByUserId");

-- One line for one piece of work on one return: what was refused may be claimed again, nothing else.
CREATE UNIQUE INDEX "SettlementLine_once_per_return" ON "SettlementLine" ("returnId", "kind", "operation")
  WHERE "state" <> 'refused' AND "kind" <> 'reversal';

ALTER TABLE "SettlementStatement" ADD CONSTRAINT "SettlementStatement_paid" CHECK (
  ("paidAt" IS NULL) = ("paymentReference" IS NULL) AND ("paidAt" IS NULL) = ("paidByUserId" IS NULL));

ALTER TABLE "Notice"
  ADD CONSTRAINT "Notice_audience" CHECK (("dealerId" IS NULL) <> ("audienceRole" IS NULL)),
  ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder', 'pack-received',
    'decided', 'sent-back', 'credited', 'safety'));
ALTER TABLE "NoticeLetter"
  ADD CONSTRAINT "NoticeLetter_state" CHECK ("state" IN ('waiting', 'sent', 'dead') AND ("state" = 'sent') = ("sentAt" IS NOT NULL)
    AND "attempts" >= 0 AND "language" IN ('en', 'de', 'es'));
ALTER TABLE "LegalNoticeShown"
  ADD CONSTRAINT "LegalNoticeShown_values" CHECK ("kind" IN ('choice-and-extension', 'refurbished-on-request')
    AND ("choice" IS NULL OR "choice" IN ('repair', 'replacement', 'refurbished', 'no-choice')));

-- ---------------------------------------------------------------------------------------------------------------
-- Written once
-- ---------------------------------------------------------------------------------------------------------------
DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['SettlementRate', 'SettlementMove', 'SettlementPayment', 'LegalNoticeShown']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION "refuse_change"()',
      t || '_written_once', t);
  END LOOP;
END $$;

-- A line moves on; what was claimed and for how much stays as it was written, and a paid line stays paid.
CREATE FUNCTION "refuse_line_edit"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  moving text[] := ARRAY['state', 'version', 'reason', 'approvedByUserId', 'approvedByName', 'statementId'];
BEGIN
  IF TG_OP = 'DELETE' OR OLD."state" IN ('paid', 'refused')
    OR (to_jsonb(NEW) - moving) IS DISTINCT FROM (to_jsonb(OLD) - moving) THEN
    RAISE EXCEPTION 'a line of money is never edited: reverse it by a new one' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "SettlementLine_never_edited" BEFORE UPDATE OR DELETE ON "SettlementLine"
  FOR EACH ROW EXECUTE FUNCTION "refuse_line_edit"();

CREATE FUNCTION "refuse_statement_edit"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  paying text[] := ARRAY['paymentReference', 'paidAt', 'paidByUserId'];
BEGIN
  IF TG_OP = 'DELETE' OR OLD."paidAt" IS NOT NULL OR (to_jsonb(NEW) - paying) IS DISTINCT FROM (to_jsonb(OLD) - paying) THEN
    RAISE EXCEPTION 'a closed statement is never edited' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "SettlementStatement_never_edited" BEFORE UPDATE OR DELETE ON "SettlementStatement"
  FOR EACH ROW EXECUTE FUNCTION "refuse_statement_edit"();

-- ---------------------------------------------------------------------------------------------------------------
-- Who sees and writes what. A dealer sees its own balance only, and claims; finance and managers move lines on.
-- ---------------------------------------------------------------------------------------------------------------
DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['SettlementRate', 'SettlementLine', 'SettlementMove', 'SettlementStatement', 'SettlementPayment',
    'Notice', 'NoticeLetter', 'LegalNoticeShown']
  LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', t);
    EXECUTE format('ALTER TABLE %I FORCE ROW LEVEL SECURITY', t);
  END LOOP;
END $$;

CREATE FUNCTION "bench_moves_money"() RETURNS boolean LANGUAGE sql STABLE AS
  $$ SELECT bench_role() IN ('finance', 'manager', 'system') $$;

CREATE POLICY "rates_for_all" ON "SettlementRate" FOR SELECT USING (true);
CREATE POLICY "rates_by_finance" ON "SettlementRate" FOR INSERT WITH CHECK (bench_role() IN ('finance', 'system'));

CREATE POLICY "own_dealer" ON "SettlementLine" FOR SELECT USING (bench_sees_all() OR "dealerId" = bench_dealer());
CREATE POLICY "claimed" ON "SettlementLine" FOR INSERT WITH CHECK (
  bench_moves_money() OR ((bench_sees_all() OR "dealerId" = bench_dealer()) AND "state" = 'claimed' AND "kind" <> 'reversal'));
CREATE POLICY "moved_by_money" ON "SettlementLine" FOR UPDATE USING (bench_moves_money()) WITH CHECK (bench_moves_money());

CREATE POLICY "with_its_line" ON "SettlementMove" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "SettlementLine" l WHERE l."id" = "SettlementMove"."lineId"));
CREATE POLICY "written_with_its_line" ON "SettlementMove" FOR INSERT
  WITH CHECK (EXISTS (SELECT 1 FROM "SettlementLine" l WHERE l."id" = "SettlementMove"."lineId"));

CREATE POLICY "own_dealer" ON "SettlementStatement" FOR SELECT USING (bench_sees_all() OR "dealerId" = bench_dealer());
CREATE POLICY "closed_by_money" ON "SettlementStatement" FOR INSERT WITH CHECK (bench_moves_money());
CREATE POLICY "paid_by_money" ON "SettlementStatement" FOR UPDATE USING (bench_moves_money()) WITH CHECK (bench_moves_money());

CREATE POLICY "with_its_line" ON "SettlementPayment" FOR SELECT
  USING (EXISTS (SELECT 1 FROM "SettlementLine" l WHERE l."id" = "SettlementPayment"."lineId"));
CREATE POLICY "paid_by_money" ON "SettlementPayment" FOR INSERT WITH CHECK (bench_moves_money());

-- Anyone may queue a notice to a role of the maker (a dealer raises an alarm); only the house and the dealer itself one to a dealer.
CREATE POLICY "own_dealer" ON "Notice" FOR SELECT USING (bench_sees_all() OR "dealerId" = bench_dealer());
CREATE POLICY "queued" ON "Notice" FOR INSERT
  WITH CHECK (bench_sees_all() OR "dealerId" = bench_dealer() OR "audienceRole" IS NOT NULL);
CREATE POLICY "addressed_by_the_system" ON "Notice" FOR UPDATE USING (bench_role() = 'system') WITH CHECK (bench_role() = 'system');
CREATE POLICY "house" ON "NoticeLetter" FOR SELECT USING (bench_sees_all());
CREATE POLICY "post_by_the_system" ON "NoticeLetter" USING (bench_role() = 'system') WITH CHECK (bench_role() = 'system');

CREATE POLICY "with_its_return" ON "LegalNoticeShown"
  USING (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "LegalNoticeShown"."returnId"))
  WITH CHECK (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "LegalNoticeShown"."returnId"));

GRANT SELECT ON "SettlementRate", "SettlementLine", "SettlementMove", "SettlementStatement", "SettlementPayment", "Notice",
  "LegalNoticeShown" TO bench_actor;
-- Where a letter was sent to is a person's address: the house sees how it fared, not the address.
GRANT SELECT ("id", "noticeId", "userId", "language", "state", "attempts", "nextAttemptAt", "lastProblem", "sentAt")
  ON "NoticeLetter" TO bench_actor;
GRANT INSERT ON "SettlementRate", "SettlementLine", "SettlementMove", "SettlementStatement", "SettlementPayment", "Notice",
  "LegalNoticeShown" TO bench_actor;
GRANT UPDATE ("state", "version", "reason", "approvedByUserId", "approvedByName", "statementId") ON "SettlementLine" TO bench_actor;
GRANT UPDATE ("paymentReference", "paidAt", "paidByUserId") ON "SettlementStatement" TO bench_actor;
GRANT USAGE ON SEQUENCE "SettlementStatement_number_seq" TO bench_actor;
