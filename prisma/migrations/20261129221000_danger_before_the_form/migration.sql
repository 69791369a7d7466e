-- AlterTable
ALTER TABLE "ReturnDraft" ADD COLUMN "dangerSince" TIMESTAMPTZ(3),
ADD COLUMN "droppedAt" TIMESTAMPTZ(3),
ADD COLUMN "toldSerial" TEXT,
ADD COLUMN "toldSigns" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- An incident may become known before its return is sent. Once, the return is named; nothing else of the row ever changes.
CREATE FUNCTION "refuse_change_but_first_return"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE' AND OLD."returnId" IS NULL AND NEW."returnId" IS NOT NULL
    AND to_jsonb(OLD) - 'returnId' = to_jsonb(NEW) - 'returnId' THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION '% is written once: a correction is a new row', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
END $$;
DROP TRIGGER "Incident_written_once" ON "Incident";
CREATE TRIGGER "Incident_written_once" BEFORE UPDATE OR DELETE ON "Incident"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change_but_first_return"();
GRANT UPDATE ("returnId") ON "Incident" TO bench_actor;

-- A danger told in a return that was never sent is first knowledge: it stays, until the return itself says so.
CREATE FUNCTION "keep_told_danger"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD."dangerSince" IS NOT NULL AND NOT EXISTS (SELECT 1 FROM "Return" r
    WHERE r."dealerId" = OLD."dealerId" AND r."clientKey" = OLD."clientKey") THEN
    RAISE EXCEPTION 'a danger was told in this unsent return: it is kept' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN OLD;
END $$;
CREATE TRIGGER "ReturnDraft_told_danger_stays" BEFORE DELETE ON "ReturnDraft"
  FOR EACH ROW EXECUTE FUNCTION "keep_told_danger"();
