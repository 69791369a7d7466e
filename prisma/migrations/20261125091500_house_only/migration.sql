-- Walls that the first version left to the code: where a pack was dispatched to, who decides, and what was found in a
-- file that belongs to a return.

-- ---------------------------------------------------------------------------------------------------------------
-- Which dealer a pack was dispatched to is another dealer's business. Row-level security hides rows, not columns, and a
-- pack's row must be found by whoever has the pack in hand; so the column is not granted at all. A query that asks for
-- it, or that forgets its select, fails loudly. The house asks as the system where it ever needs it. A column added to
-- "Pack" is invisible until a migration grants it.
-- ---------------------------------------------------------------------------------------------------------------
REVOKE SELECT ON "Pack" FROM bench_actor;
GRANT SELECT ("id", "serial", "revisionId", "builtOn", "dispatchedOn") ON "Pack" TO bench_actor;

-- ---------------------------------------------------------------------------------------------------------------
-- A dealer reads the decision on its own return and writes none.
-- ---------------------------------------------------------------------------------------------------------------
DROP POLICY "with_its_return" ON "Decision";
CREATE POLICY "read_with_its_return" ON "Decision"
  USING (EXISTS (SELECT 1 FROM "Return" r WHERE r."id" = "Decision"."returnId"))
  WITH CHECK (bench_sees_all());

-- ---------------------------------------------------------------------------------------------------------------
-- From the moment a file belongs to a return, the file and what was found in it stay as they are. Until then its
-- dealer may attach it, have the suggestion made anew, or let it go.
-- ---------------------------------------------------------------------------------------------------------------
REVOKE UPDATE ON "ReadingFile" FROM bench_actor;
GRANT UPDATE ("returnId") ON "ReadingFile" TO bench_actor;

CREATE TRIGGER "ReadingFile_unchanged_once_attached" BEFORE UPDATE ON "ReadingFile"
  FOR EACH ROW WHEN (OLD."returnId" IS NOT NULL) EXECUTE FUNCTION "refuse_evidence_removal"();

-- Where the file itself is being removed its row is gone already when its findings follow, so those may go.
CREATE FUNCTION "refuse_change_of_evidence"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  file_id uuid := CASE WHEN TG_OP = 'INSERT' THEN NEW."readingFileId" ELSE OLD."readingFileId" END;
BEGIN
  IF EXISTS (SELECT 1 FROM "ReadingFile" f WHERE f."id" = file_id AND f."returnId" IS NOT NULL) THEN
    RAISE EXCEPTION 'what was found in a readings file that belongs to a return is evidence'
      USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN CASE WHEN TG_OP = 'DELETE' THEN OLD ELSE NEW END;
END $$;

DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['Measurement', 'Finding', 'Suggestion']
  LOOP
    EXECUTE format('CREATE TRIGGER %I BEFORE INSERT OR UPDATE OR DELETE ON %I
      FOR EACH ROW EXECUTE FUNCTION "refuse_change_of_evidence"()', t || '_kept_once_attached', t);
  END LOOP;
END $$;
