-- AlterTable
ALTER TABLE "KnownIssue" ADD COLUMN     "setId" UUID;

-- CreateTable
CREATE TABLE "IssueProposal" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "issueId" UUID NOT NULL,
    "title" TEXT,
    "action" TEXT,
    "revisionId" UUID,
    "lotId" UUID,
    "setId" UUID,
    "faults" TEXT[],
    "suggestedRemedy" TEXT,
    "stopShip" BOOLEAN NOT NULL DEFAULT false,
    "coversWhateverTheDate" BOOLEAN NOT NULL DEFAULT false,
    "endsIssueId" UUID,
    "validFrom" DATE NOT NULL,
    "packs" INTEGER NOT NULL,
    "why" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'proposed',
    "proposedByUserId" TEXT NOT NULL,
    "proposedByName" TEXT NOT NULL,
    "proposedByRole" TEXT NOT NULL,
    "proposedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "settledByUserId" TEXT,
    "settledByName" TEXT,
    "settledAt" TIMESTAMPTZ(3),

    CONSTRAINT "IssueProposal_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "IssueEntry" (
    "id" UUID NOT NULL,
    "issueId" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "content" JSONB NOT NULL,
    "why" TEXT NOT NULL,
    "byUserId" TEXT NOT NULL,
    "byName" TEXT NOT NULL,
    "byRole" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "form" TEXT NOT NULL,
    "previousHash" TEXT NOT NULL,
    "hash" TEXT NOT NULL,

    CONSTRAINT "IssueEntry_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "IssueProposal_issueId_idx" ON "IssueProposal"("issueId");

-- CreateIndex
CREATE UNIQUE INDEX "IssueEntry_issueId_sequence_key" ON "IssueEntry"("issueId", "sequence");

-- CreateIndex
CREATE INDEX "KnownIssue_setId_idx" ON "KnownIssue"("setId");

-- AddForeignKey
ALTER TABLE "KnownIssue" ADD CONSTRAINT "KnownIssue_setId_fkey" FOREIGN KEY ("setId") REFERENCES "AffectedSet"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "IssueProposal" ADD CONSTRAINT "IssueProposal_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "Revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "IssueProposal" ADD CONSTRAINT "IssueProposal_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "Lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "IssueProposal" ADD CONSTRAINT "IssueProposal_setId_fkey" FOREIGN KEY ("setId") REFERENCES "AffectedSet"("id") ON DELETE RESTRICT ON UPDATE CASCADE;


ALTER TABLE "KnownIssue" DROP CONSTRAINT "KnownIssue_bound";
ALTER TABLE "KnownIssue" ADD CONSTRAINT "KnownIssue_bound" CHECK (
  ("setId" IS NOT NULL) = ("revisionId" IS NULL AND "lotId" IS NULL));

ALTER TABLE "IssueProposal"
  ADD CONSTRAINT "IssueProposal_kind" CHECK ("kind" IN ('open', 'close')),
  ADD CONSTRAINT "IssueProposal_content" CHECK (CASE "kind"
    WHEN 'open' THEN "title" IS NOT NULL AND "action" IS NOT NULL
      AND ("setId" IS NOT NULL) = ("revisionId" IS NULL AND "lotId" IS NULL)
    ELSE "title" IS NULL AND "action" IS NULL AND "revisionId" IS NULL AND "lotId" IS NULL AND "setId" IS NULL
      AND "endsIssueId" = "issueId" AND NOT "stopShip" AND NOT "coversWhateverTheDate" END),
  ADD CONSTRAINT "IssueProposal_packs" CHECK ("packs" >= 0),
  ADD CONSTRAINT "IssueProposal_why" CHECK (char_length(trim("why")) >= 10),
  ADD CONSTRAINT "IssueProposal_state" CHECK ("state" IN ('proposed', 'approved', 'dropped')),
  ADD CONSTRAINT "IssueProposal_two_people" CHECK (
    "state" = 'proposed' OR ("settledByUserId" IS NOT NULL AND "settledAt" IS NOT NULL
      AND ("state" = 'dropped' OR "settledByUserId" <> "proposedByUserId")));
-- Of two people who want the same issue closed, or another in its place, the second is told of the first.
CREATE UNIQUE INDEX "IssueProposal_one_end_at_a_time" ON "IssueProposal" ("endsIssueId") WHERE "state" = 'proposed';
CREATE TRIGGER "IssueProposal_never_edited" BEFORE UPDATE OR DELETE ON "IssueProposal"
  FOR EACH ROW EXECUTE FUNCTION "refuse_proposal_edit"();

ALTER TABLE "IssueEntry"
  ADD CONSTRAINT "IssueEntry_kind" CHECK ("kind" IN ('opening-proposed', 'opened', 'opening-dropped', 'closing-proposed', 'closed', 'closing-dropped')),
  ADD CONSTRAINT "IssueEntry_sequence" CHECK ("sequence" >= 1),
  ADD CONSTRAINT "IssueEntry_chained" CHECK ("hash" ~ '^[0-9a-f]{64}$');
CREATE TRIGGER "IssueEntry_written_once" BEFORE UPDATE OR DELETE ON "IssueEntry"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
CREATE TRIGGER "IssueEntry_marked" AFTER INSERT ON "IssueEntry"
  FOR EACH ROW EXECUTE FUNCTION "mark_chain"('issue', 'issueId');

-- The service lead proposes; a manager or the safety officer settles, and thereby opens or closes.
ALTER TABLE "IssueProposal" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "IssueProposal" FORCE ROW LEVEL SECURITY;
ALTER TABLE "IssueEntry" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "IssueEntry" FORCE ROW LEVEL SECURITY;
CREATE POLICY "read_by_those_in_charge" ON "IssueProposal" FOR SELECT
  USING ((SELECT bench_role()) IN ('service-lead', 'manager', 'safety-officer', 'system'));
CREATE POLICY "proposed" ON "IssueProposal" FOR INSERT
  WITH CHECK (bench_role() IN ('service-lead', 'manager', 'safety-officer', 'system') AND "state" = 'proposed');
CREATE POLICY "settled_by_two" ON "IssueProposal" FOR UPDATE
  USING (bench_role() IN ('manager', 'safety-officer', 'system'))
  WITH CHECK (bench_role() IN ('manager', 'safety-officer', 'system'));
CREATE POLICY "read_by_those_in_charge" ON "IssueEntry" FOR SELECT
  USING ((SELECT bench_role()) IN ('service-lead', 'manager', 'safety-officer', 'system'));
CREATE POLICY "written" ON "IssueEntry" FOR INSERT
  WITH CHECK (bench_role() IN ('manager', 'safety-officer', 'system')
    OR (bench_role() = 'service-lead' AND "kind" IN ('opening-proposed', 'closing-proposed')));
GRANT SELECT, INSERT ON "IssueProposal", "IssueEntry" TO bench_actor;
GRANT UPDATE ("state", "settledByUserId", "settledByName", "settledAt") ON "IssueProposal" TO bench_actor;

-- What the house reads of known issues stays; a row comes and ends by an approved proposal alone.
DROP POLICY "house" ON "KnownIssue";
CREATE POLICY "house" ON "KnownIssue" FOR SELECT USING ((SELECT bench_sees_build()));
CREATE POLICY "opened" ON "KnownIssue" FOR INSERT WITH CHECK (bench_role() IN ('manager', 'safety-officer', 'system'));
CREATE POLICY "closed" ON "KnownIssue" FOR UPDATE
  USING (bench_role() IN ('manager', 'safety-officer', 'system'))
  WITH CHECK (bench_role() IN ('manager', 'safety-officer', 'system'));
GRANT INSERT ON "KnownIssue" TO bench_actor;
GRANT UPDATE ("closedOn") ON "KnownIssue" TO bench_actor;
CREATE FUNCTION "keep_known_issue"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF bench_role() <> 'system' AND NOT EXISTS (
    SELECT 1 FROM "IssueProposal" p WHERE p."state" = 'approved' AND CASE
      WHEN TG_OP = 'INSERT' THEN p."kind" = 'open' AND p."issueId" = NEW."id" AND p."validFrom" = NEW."openedOn"
        AND (p."title", p."action", p."revisionId", p."lotId", p."setId", p."stopShip", p."coversWhateverTheDate")
          IS NOT DISTINCT FROM (NEW."title", NEW."action", NEW."revisionId", NEW."lotId", NEW."setId", NEW."stopShip",
            NEW."coversWhateverTheDate")
      ELSE p."validFrom" = NEW."closedOn" AND OLD."closedOn" IS NULL
        AND p."endsIssueId" = NEW."id" END) THEN
    RAISE EXCEPTION 'a known issue is opened and closed by an approved proposal' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "KnownIssue_by_two" BEFORE INSERT OR UPDATE ON "KnownIssue"
  FOR EACH ROW EXECUTE FUNCTION "keep_known_issue"();
