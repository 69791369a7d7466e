-- DropIndex
DROP INDEX "WarrantyPolicy_validFrom_key";

-- AlterTable
ALTER TABLE "KnownIssue" ADD COLUMN     "coversWhateverTheDate" BOOLEAN NOT NULL DEFAULT false;

-- AlterTable
ALTER TABLE "Return" ADD COLUMN     "coverFacts" JSONB,
ADD COLUMN     "coverRulesVersion" TEXT,
ADD COLUMN     "coverWouldChange" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- AlterTable
ALTER TABLE "WarrantyPolicy" ADD COLUMN     "clockStop" TEXT NOT NULL DEFAULT 'never',
ADD COLUMN     "evidenceGapDays" INTEGER NOT NULL DEFAULT 14,
ADD COLUMN     "evidenceOrder" TEXT[],
ADD COLUMN     "minimumMonths" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "proposedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
ADD COLUMN     "proposedByName" TEXT,
ADD COLUMN     "proposedByUserId" TEXT,
ADD COLUMN     "settledAt" TIMESTAMPTZ(3),
ADD COLUMN     "settledByName" TEXT,
ADD COLUMN     "settledByUserId" TEXT,
ADD COLUMN     "shadowSentence" TEXT,
ADD COLUMN     "state" TEXT NOT NULL DEFAULT 'proposed',
ADD COLUMN     "weekendEnd" TEXT NOT NULL DEFAULT 'as-it-falls',
ADD COLUMN     "why" TEXT NOT NULL DEFAULT '';

-- ---------------------------------------------------------------------------------------------------------------
-- What the maker promises is changed by two people. Versions written before this rule were in force and stay so.
-- ---------------------------------------------------------------------------------------------------------------
UPDATE "WarrantyPolicy" SET "state" = 'approved', "why" = 'In force before versions were proposed and approved.',
  "evidenceOrder" = ARRAY['delivery-receipt', 'registration-before-complaint', 'statement-at-complaint', 'distributor-sale',
    'dispatch-plus-shelf-limit'];

ALTER TABLE "WarrantyPolicy"
  ADD CONSTRAINT "WarrantyPolicy_more_values" CHECK (
    "minimumMonths" BETWEEN 0 AND 120 AND "weekendEnd" IN ('as-it-falls', 'next-working-day')
    AND "clockStop" IN ('never', 'while-with-us') AND "evidenceGapDays" BETWEEN 0 AND 366
    AND cardinality("evidenceOrder") = 5),
  ADD CONSTRAINT "WarrantyPolicy_state" CHECK ("state" IN ('proposed', 'approved', 'dropped')),
  -- Only set-up leaves the persons out; a person's proposal is settled by somebody, and never approved by the same one.
  ADD CONSTRAINT "WarrantyPolicy_two_people" CHECK (
    "state" = 'proposed' OR "proposedByUserId" IS NULL OR ("settledByUserId" IS NOT NULL AND "settledAt" IS NOT NULL
      AND ("state" = 'dropped' OR "settledByUserId" <> "proposedByUserId")));

CREATE UNIQUE INDEX "WarrantyPolicy_one_approved_a_day" ON "WarrantyPolicy" ("validFrom") WHERE "state" = 'approved';

-- Settling is the one change there is; every term stays as it was proposed.
CREATE FUNCTION "refuse_policy_edit"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD."state" <> 'proposed'
    OR (to_jsonb(NEW) - ARRAY['state', 'settledByUserId', 'settledByName', 'settledAt', 'shadowSentence'])
      IS DISTINCT FROM (to_jsonb(OLD) - ARRAY['state', 'settledByUserId', 'settledByName', 'settledAt', 'shadowSentence']) THEN
    RAISE EXCEPTION 'a version of the guarantee is never edited: propose a new one' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER "WarrantyPolicy_never_edited" BEFORE UPDATE OR DELETE ON "WarrantyPolicy"
  FOR EACH ROW EXECUTE FUNCTION "refuse_policy_edit"();

ALTER TABLE "WarrantyPolicy" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "WarrantyPolicy" FORCE ROW LEVEL SECURITY;
CREATE POLICY "approved_for_all" ON "WarrantyPolicy" FOR SELECT USING ("state" = 'approved' OR bench_sees_all());
CREATE POLICY "proposed_by_managers" ON "WarrantyPolicy" FOR INSERT WITH CHECK (
  current_setting('bench.role', true) = 'system'
  OR (current_setting('bench.role', true) = 'manager' AND "state" = 'proposed' AND "proposedByUserId" IS NOT NULL));
CREATE POLICY "settled_by_managers" ON "WarrantyPolicy" FOR UPDATE
  USING (current_setting('bench.role', true) IN ('system', 'manager'))
  WITH CHECK (current_setting('bench.role', true) IN ('system', 'manager'));
GRANT INSERT ON "WarrantyPolicy" TO bench_actor;
GRANT UPDATE ("state", "settledByUserId", "settledByName", "settledAt", "shadowSentence") ON "WarrantyPolicy" TO bench_actor;

-- ---------------------------------------------------------------------------------------------------------------
-- Cover: a field action covers a pack whatever its dates say.
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "Return" DROP CONSTRAINT "Return_cover";
ALTER TABLE "Return" ADD CONSTRAINT "Return_cover" CHECK ("coverOutcome" IN (
  'in-cover', 'in-cover-by-grace', 'covered-by-field-action', 'outside-makers-guarantee', 'cannot-tell-yet'));

-- A chain that leads back to itself has no first pack, and cover is counted from the first pack.
CREATE FUNCTION "refuse_replacement_loop"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (
    WITH RECURSIVE before("packId") AS (
      SELECT NEW."oldPackId"
      UNION
      SELECT r."oldPackId" FROM "Replacement" r JOIN before b ON r."newPackId" = b."packId")
    SELECT 1 FROM before WHERE "packId" = NEW."newPackId") THEN
    RAISE EXCEPTION 'a replacement leads back to a pack that went before' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;

CREATE TRIGGER "Replacement_no_loop" BEFORE INSERT OR UPDATE ON "Replacement"
  FOR EACH ROW EXECUTE FUNCTION "refuse_replacement_loop"();
