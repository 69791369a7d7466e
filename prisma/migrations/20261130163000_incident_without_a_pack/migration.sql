-- AlterTable
ALTER TABLE "Incident" ADD COLUMN "draftKey" TEXT,
ALTER COLUMN "packId" DROP NOT NULL;

-- CreateIndex
CREATE INDEX "Incident_draftKey_idx" ON "Incident"("draftKey");

-- A fire takes the label off: an incident may become known before anybody can name its pack. Once each, pack and return are named;
-- nothing else of the row ever changes.
CREATE OR REPLACE FUNCTION "refuse_change_but_first_return"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE'
    AND (OLD."returnId", OLD."packId") IS DISTINCT FROM (NEW."returnId", NEW."packId")
    AND (OLD."returnId" IS NULL OR OLD."returnId" = NEW."returnId")
    AND (OLD."packId" IS NULL OR OLD."packId" = NEW."packId")
    AND to_jsonb(OLD) - 'returnId' - 'packId' = to_jsonb(NEW) - 'returnId' - 'packId' THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION '% is written once: a correction is a new row', TG_TABLE_NAME USING ERRCODE = 'integrity_constraint_violation';
END $$;
GRANT UPDATE ("packId") ON "Incident" TO bench_actor;
ALTER TABLE "IncidentEntry" DROP CONSTRAINT "IncidentEntry_kind";
ALTER TABLE "IncidentEntry" ADD CONSTRAINT "IncidentEntry_kind" CHECK (
  "kind" IN ('knowledge', 'flags', 'place', 'checklist', 'pattern', 'determination', 'decision', 'pack', 'closed', 'acknowledged'));
