-- DropIndex
DROP INDEX "ReturnSetting_validFrom_key";

-- AlterTable
ALTER TABLE "ReturnSetting" ADD COLUMN     "proposedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
ADD COLUMN     "proposedByName" TEXT,
ADD COLUMN     "proposedByUserId" TEXT,
ADD COLUMN     "settledAt" TIMESTAMPTZ(3),
ADD COLUMN     "settledByName" TEXT,
ADD COLUMN     "settledByUserId" TEXT,
ADD COLUMN     "state" TEXT NOT NULL DEFAULT 'proposed',
ADD COLUMN     "why" TEXT NOT NULL DEFAULT '';

-- The first setting was in force before versions were proposed and approved; the trigger that keeps rows as they are is
-- laid aside for this one line.
ALTER TABLE "ReturnSetting" DISABLE TRIGGER "ReturnSetting_written_once";
UPDATE "ReturnSetting" SET "state" = 'approved', "why" = 'In force before versions were proposed and approved.';
DROP TRIGGER "ReturnSetting_written_once" ON "ReturnSetting";

ALTER TABLE "ReturnSetting"
  ADD CONSTRAINT "ReturnSetting_state" CHECK ("state" IN ('proposed', 'approved', 'dropped')),
  -- Only set-up leaves the persons out; a person's proposal is settled by somebody, and never approved by the same one.
  ADD CONSTRAINT "ReturnSetting_two_people" CHECK (
    "state" = 'proposed' OR "proposedByUserId" IS NULL OR ("settledByUserId" IS NOT NULL AND "settledAt" IS NOT NULL
      AND ("state" = 'dropped' OR "settledByUserId" <> "proposedByUserId")));
CREATE UNIQUE INDEX "ReturnSetting_one_approved_a_day" ON "ReturnSetting" ("validFrom") WHERE "state" = 'approved';

-- Settling is the one change there is; every period stays as it was proposed.
CREATE FUNCTION "refuse_setting_edit"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD."state" <> 'proposed'
    OR (to_jsonb(NEW) - ARRAY['state', 'settledByUserId', 'settledByName', 'settledAt'])
      IS DISTINCT FROM (to_jsonb(OLD) - ARRAY['state', 'settledByUserId', 'settledByName', 'settledAt']) THEN
    RAISE EXCEPTION 'a version of the periods is never edited: propose a new one' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "ReturnSetting_never_edited" BEFORE UPDATE OR DELETE ON "ReturnSetting"
  FOR EACH ROW EXECUTE FUNCTION "refuse_setting_edit"();

ALTER TABLE "ReturnSetting" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "ReturnSetting" FORCE ROW LEVEL SECURITY;
CREATE POLICY "approved_for_all" ON "ReturnSetting" FOR SELECT USING ("state" = 'approved' OR bench_sees_all());
CREATE POLICY "proposed_by_managers" ON "ReturnSetting" FOR INSERT WITH CHECK (
  bench_role() = 'system' OR (bench_role() = 'manager' AND "state" = 'proposed' AND "proposedByUserId" IS NOT NULL));
CREATE POLICY "settled_by_managers" ON "ReturnSetting" FOR UPDATE
  USING (bench_role() IN ('system', 'manager')) WITH CHECK (bench_role() IN ('system', 'manager'));
GRANT INSERT ON "ReturnSetting" TO bench_actor;
GRANT UPDATE ("state", "settledByUserId", "settledByName", "settledAt") ON "ReturnSetting" TO bench_actor;
