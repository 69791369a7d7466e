-- DropIndex
DROP INDEX "Decision_returnId_key";

-- AlterTable
ALTER TABLE "Decision" ADD COLUMN     "isGoodwill" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "proposedByName" TEXT,
ADD COLUMN     "proposedByUserId" TEXT,
ADD COLUMN     "refundCurrency" TEXT,
ADD COLUMN     "refundMinor" INTEGER,
ADD COLUMN     "refusalAlternatives" TEXT,
ADD COLUMN     "refusalEvidence" TEXT,
ADD COLUMN     "refusalTerm" TEXT,
ADD COLUMN     "secondByName" TEXT,
ADD COLUMN     "secondByUserId" TEXT;

-- AlterTable
ALTER TABLE "Return" ADD COLUMN     "decisionId" UUID,
ADD COLUMN     "dueAt" TIMESTAMPTZ(3),
ADD COLUMN     "lastMoveHash" TEXT,
ADD COLUMN     "mergedIntoId" UUID,
ADD COLUMN     "pausedMinutesLeft" INTEGER,
ADD COLUMN     "settledBefore" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "takenByUserId" TEXT,
ADD COLUMN     "turn" TEXT NOT NULL DEFAULT 'maker';

-- AlterTable
ALTER TABLE "ReturnMove" ADD COLUMN     "atLocal" TEXT,
ADD COLUMN     "facts" JSONB,
ADD COLUMN     "form" TEXT NOT NULL DEFAULT 'return-history-1',
ADD COLUMN     "move" TEXT;

-- CreateTable
CREATE TABLE "Track" (
    "id" UUID NOT NULL,
    "track" TEXT NOT NULL,
    "packId" UUID,
    "returnId" UUID,
    "openedByUserId" TEXT NOT NULL,
    "openedByName" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 0,
    "lastHash" TEXT,

    CONSTRAINT "Track_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "TrackMove" (
    "id" UUID NOT NULL,
    "trackId" UUID NOT NULL,
    "returnId" UUID,
    "sequence" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "atLocal" TEXT NOT NULL,
    "actorUserId" TEXT NOT NULL,
    "actorName" TEXT NOT NULL,
    "actorRole" TEXT NOT NULL,
    "from" TEXT NOT NULL,
    "to" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "facts" JSONB,
    "dataVersion" INTEGER NOT NULL,
    "ruleVersion" TEXT,
    "form" TEXT NOT NULL,
    "previousHash" TEXT NOT NULL,
    "hash" TEXT NOT NULL,

    CONSTRAINT "TrackMove_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ReturnSetting" (
    "id" UUID NOT NULL,
    "version" TEXT NOT NULL,
    "validFrom" DATE NOT NULL,
    "values" JSONB NOT NULL,

    CONSTRAINT "ReturnSetting_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "Track_packId_idx" ON "Track"("packId");

-- CreateIndex
CREATE INDEX "Track_returnId_idx" ON "Track"("returnId");

-- CreateIndex
CREATE INDEX "TrackMove_returnId_idx" ON "TrackMove"("returnId");

-- CreateIndex
CREATE UNIQUE INDEX "TrackMove_trackId_sequence_key" ON "TrackMove"("trackId", "sequence");

-- CreateIndex
CREATE UNIQUE INDEX "ReturnSetting_version_key" ON "ReturnSetting"("version");

-- CreateIndex
CREATE UNIQUE INDEX "ReturnSetting_validFrom_key" ON "ReturnSetting"("validFrom");

-- CreateIndex
CREATE INDEX "Decision_returnId_idx" ON "Decision"("returnId");

-- CreateIndex
CREATE UNIQUE INDEX "Return_decisionId_key" ON "Return"("decisionId");

-- CreateIndex
CREATE INDEX "Return_turn_dueAt_idx" ON "Return"("turn", "dueAt");

-- CreateIndex
CREATE INDEX "Return_mergedIntoId_idx" ON "Return"("mergedIntoId");

-- AddForeignKey
ALTER TABLE "Return" ADD CONSTRAINT "Return_mergedIntoId_fkey" FOREIGN KEY ("mergedIntoId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Return" ADD CONSTRAINT "Return_decisionId_fkey" FOREIGN KEY ("decisionId") REFERENCES "Decision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Track" ADD CONSTRAINT "Track_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Track" ADD CONSTRAINT "Track_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TrackMove" ADD CONSTRAINT "TrackMove_trackId_fkey" FOREIGN KEY ("trackId") REFERENCES "Track"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TrackMove" ADD CONSTRAINT "TrackMove_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- Rows written before: row-level security is forced on the owner too, so this part speaks as the system.
-- ---------------------------------------------------------------------------------------------------------------
SELECT set_config('bench.role', 'system', false);

UPDATE "Return" r SET "decisionId" = d."id" FROM "Decision" d WHERE d."returnId" = r."id";
UPDATE "Return" r SET "lastMoveHash" =
  (SELECT m."hash" FROM "ReturnMove" m WHERE m."returnId" = r."id" ORDER BY m."sequence" DESC LIMIT 1);
-- A decision was the end of a return in the first version: nothing more is expected of those.
UPDATE "Return" SET "turn" = 'nobody' WHERE "status" IN ('withdrawn', 'decided');
UPDATE "Return" SET "settledBefore" = true WHERE "status" = 'decided';

-- A flag raised before the safety of a pack was followed sets the pack apart until the safety officer judges it.
INSERT INTO "Track" ("id", "track", "packId", "openedByUserId", "openedByName", "state")
  SELECT DISTINCT ON (f."packId") gen_random_uuid(), 'safety', f."packId", f."raisedByUserId", f."raisedByName", 'isolate'
  FROM "SafetyFlag" f ORDER BY f."packId", f."raisedAt";

SELECT set_config('bench.role', '', false);

-- Periods and limits to start with: engineering defaults, no authority; a later row replaces them from its day on.
INSERT INTO "ReturnSetting" ("id", "version", "validFrom", "values") VALUES (gen_random_uuid(), 'returns-1', '2020-01-01', '{
  "dueDays": { "sent-in": 2, "more-information-needed": 7, "in-review": 5, "remote-help": 7, "return-approved": 14,
    "return-expected": 10, "at-the-works": 3, "under-test": 10, "decision-proposed": 3, "decided": 5,
    "work-in-progress": 10, "ready-to-hand-back": 7, "handed-back": 30 },
  "remindersBeforeLapse": 2, "objectionDays": 30, "solvedReopenDays": 30, "closeAfterDays": 14,
  "refundLimitMinor": 50000, "refundLimitCurrency": "EUR" }');

-- ---------------------------------------------------------------------------------------------------------------
-- Checks
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "Return" DROP CONSTRAINT "Return_status";
ALTER TABLE "Return"
  ADD CONSTRAINT "Return_status" CHECK ("status" IN ('draft', 'sent-in', 'more-information-needed', 'in-review',
    'remote-help', 'return-approved', 'return-expected', 'at-the-works', 'under-test', 'decision-proposed', 'decided',
    'work-in-progress', 'ready-to-hand-back', 'handed-back', 'closed', 'solved-remotely', 'withdrawn', 'lapsed', 'merged')),
  ADD CONSTRAINT "Return_turn" CHECK ("turn" IN ('dealer', 'maker', 'nobody')),
  ADD CONSTRAINT "Return_merged" CHECK (("status" = 'merged') = ("mergedIntoId" IS NOT NULL) AND "mergedIntoId" <> "id");

-- One open return for one pack, over every status in which the maker or the dealer still has it in hand. A pack that was
-- handed back is with its customer again: what shows then is a new complaint, though the old return is not closed yet.
DROP INDEX "Return_one_open_per_pack";
CREATE UNIQUE INDEX "Return_one_open_per_pack" ON "Return" ("packId") WHERE "status" IN ('sent-in',
  'more-information-needed', 'in-review', 'remote-help', 'return-approved', 'return-expected', 'at-the-works', 'under-test',
  'decision-proposed', 'decided', 'work-in-progress', 'ready-to-hand-back') AND NOT "settledBefore";

ALTER TABLE "ReturnMove" ADD CONSTRAINT "ReturnMove_form" CHECK (
  ("form" = 'return-history-1' AND "move" IS NULL AND "atLocal" IS NULL AND "facts" IS NULL)
  OR ("form" = 'return-history-2' AND "move" IS NOT NULL AND "atLocal" IS NOT NULL));

ALTER TABLE "Decision" DROP CONSTRAINT "Decision_remedy";
ALTER TABLE "Decision"
  ADD CONSTRAINT "Decision_remedy" CHECK ("remedy" IN ('remote-fix', 'repair', 'replace', 'refund', 'return-as-is',
    'refuse', 'redirect', 'dispose', 'isolate')),
  ADD CONSTRAINT "Decision_refund" CHECK (("remedy" = 'refund') = ("refundMinor" IS NOT NULL)
    AND ("refundMinor" IS NULL) = ("refundCurrency" IS NULL) AND coalesce("refundMinor", 1) > 0),
  ADD CONSTRAINT "Decision_refusal" CHECK ("remedy" <> 'refuse'
    OR ("refusalTerm" IS NOT NULL AND "refusalEvidence" IS NOT NULL AND "refusalAlternatives" IS NOT NULL)),
  -- Nobody approves what they proposed, and a second person is another person.
  ADD CONSTRAINT "Decision_people" CHECK ("decidedByUserId" IS DISTINCT FROM "proposedByUserId"
    AND "secondByUserId" IS DISTINCT FROM "decidedByUserId"
    AND ("secondByUserId" IS NULL OR "secondByUserId" IS DISTINCT FROM "proposedByUserId"));

ALTER TABLE "Track"
  ADD CONSTRAINT "Track_subject" CHECK (CASE
    WHEN "track" IN ('custody', 'safety', 'hold') THEN "packId" IS NOT NULL AND "returnId" IS NULL
    WHEN "track" = 'remedy' THEN "packId" IS NULL AND "returnId" IS NOT NULL
    ELSE false END),
  ADD CONSTRAINT "Track_state" CHECK (CASE "track"
    WHEN 'custody' THEN "state" IN ('with-customer', 'with-dealer', 'with-carrier-in', 'quarantine', 'bench', 'store',
      'workshop', 'with-carrier-out', 'supplier', 'recycler', 'missing')
    WHEN 'safety' THEN "state" IN ('normal', 'caution', 'isolate', 'do-not-move', 'incident-open', 'incident-closed')
    WHEN 'hold' THEN "state" IN ('none', 'held')
    WHEN 'remedy' THEN "state" IN ('none-yet', 'offered', 'chosen', 'reserved', 'sent', 'received', 'refund-agreed',
      'refund-paid', 'refused', 'objected')
    ELSE false END),
  ADD CONSTRAINT "Track_version" CHECK ("version" >= 0);

CREATE UNIQUE INDEX "Track_one_per_pack" ON "Track" ("packId", "track") WHERE "packId" IS NOT NULL;
CREATE UNIQUE INDEX "Track_one_remedy_per_return" ON "Track" ("returnId") WHERE "track" = 'remedy';

ALTER TABLE "TrackMove"
  ADD CONSTRAINT "TrackMove_sequence" CHECK ("sequence" >= 1 AND "dataVersion" = "sequence"),
  ADD CONSTRAINT "TrackMove_form" CHECK ("form" = 'track-history-1'),
  ADD CONSTRAINT "TrackMove_hash" CHECK ("hash" ~ '^[0-9a-f]{64}$' AND "previousHash" ~ '^[0-9a-f]{64}$');

-- ---------------------------------------------------------------------------------------------------------------
-- Written once, and versions that rise by one
-- ---------------------------------------------------------------------------------------------------------------
CREATE TRIGGER "TrackMove_written_once" BEFORE UPDATE OR DELETE ON "TrackMove"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
CREATE TRIGGER "ReturnSetting_written_once" BEFORE UPDATE OR DELETE ON "ReturnSetting"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();

CREATE FUNCTION "refuse_unversioned_step"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% takes a step with the version one higher, and only so', TG_TABLE_NAME
    USING ERRCODE = 'integrity_constraint_violation';
END $$;

CREATE TRIGGER "Return_version_rises" BEFORE UPDATE ON "Return" FOR EACH ROW
  WHEN ((NEW."status" <> OLD."status" OR NEW."version" <> OLD."version") AND NEW."version" <> OLD."version" + 1)
  EXECUTE FUNCTION "refuse_unversioned_step"();
CREATE TRIGGER "Track_version_rises" BEFORE UPDATE ON "Track" FOR EACH ROW
  WHEN ((NEW."state" <> OLD."state" OR NEW."version" <> OLD."version") AND NEW."version" <> OLD."version" + 1)
  EXECUTE FUNCTION "refuse_unversioned_step"();

-- The newest decision is the one that stands.
CREATE FUNCTION "let_decision_stand"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE "Return" SET "decisionId" = NEW."id" WHERE "id" = NEW."returnId";
  RETURN NULL;
END $$;
CREATE TRIGGER "Decision_stands" AFTER INSERT ON "Decision" FOR EACH ROW EXECUTE FUNCTION "let_decision_stand"();

-- ---------------------------------------------------------------------------------------------------------------
-- Grants and policies
-- ---------------------------------------------------------------------------------------------------------------
-- What was said and answered when a return was lodged stays as it was; only where it stands changes.
REVOKE UPDATE ON "Return" FROM bench_actor;
GRANT UPDATE ("status", "version", "riskRank", "takenByName", "takenByUserId", "turn", "dueAt", "pausedMinutesLeft",
  "lastMoveHash", "decisionId", "mergedIntoId") ON "Return" TO bench_actor;
GRANT SELECT, INSERT ON "Track", "TrackMove" TO bench_actor;
GRANT UPDATE ("state", "version", "lastHash") ON "Track" TO bench_actor;
GRANT SELECT ON "ReturnSetting" TO bench_actor;

ALTER TABLE "Track" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "Track" FORCE ROW LEVEL SECURITY;
ALTER TABLE "TrackMove" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "TrackMove" FORCE ROW LEVEL SECURITY;

-- A legal hold is the house's business; of the other tracks a dealer sees those of its own returns and of the packs in
-- them. Anyone may raise a flag, the administrator too, who sees no case.
CREATE POLICY "with_its_return" ON "Track"
  USING (bench_sees_all()
    OR ("track" = 'safety' AND bench_role() = 'administrator')
    OR ("track" <> 'hold' AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "Track"."returnId" OR r."packId" = "Track"."packId")))
  WITH CHECK (bench_sees_all()
    OR ("track" = 'safety' AND bench_role() = 'administrator')
    OR ("track" <> 'hold' AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "Track"."returnId" OR r."packId" = "Track"."packId")));

-- A pack goes from one dealer to another: each reads what happened under its own returns.
CREATE POLICY "with_its_return" ON "TrackMove"
  USING (bench_sees_all() OR EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "TrackMove"."returnId"))
  WITH CHECK (bench_sees_all()
    OR (bench_role() = 'administrator' AND EXISTS (SELECT 1 FROM "Track" t WHERE t."id" = "TrackMove"."trackId"))
    OR EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "TrackMove"."returnId"));

-- A proposal is no decision: the dealer reads it once it is decided.
DROP POLICY "with_its_return" ON "ReturnMove";
CREATE POLICY "with_its_return" ON "ReturnMove"
  USING (bench_sees_all() OR (coalesce("move", '') NOT IN ('propose', 'send-back', 'veto')
    AND EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "ReturnMove"."returnId")))
  WITH CHECK (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "ReturnMove"."returnId"));

-- The chain from the old pack to the new one is written when the new one is handed over, by whoever confirms that.
GRANT INSERT ON "Replacement" TO bench_actor;
CREATE POLICY "handed_over" ON "Replacement" FOR INSERT WITH CHECK (EXISTS (SELECT 1 FROM "Return" r
  WHERE r."packId" = "Replacement"."oldPackId" AND r."dealerId" = bench_dealer() AND r."status" = 'handed-back'));
