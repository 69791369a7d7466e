-- A pack that is replaced twice: the customer gave back, or kept, the first and holds the second, which the third takes the
-- place of. Whoever hands over names the pack of the return; the chain is written from the last pack of it.
CREATE OR REPLACE FUNCTION "keep_chain_straight"() RETURNS trigger LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  asked_by text := bench_role();
  returned uuid := NEW."oldPackId";
  later uuid;
BEGIN
  PERFORM set_config('bench.role', 'system', true);
  -- A chain never leads back (below), so this comes to an end.
  LOOP
    SELECT r."newPackId" INTO later FROM "Replacement" r WHERE r."oldPackId" = NEW."oldPackId";
    EXIT WHEN later IS NULL;
    NEW."oldPackId" := later;
  END LOOP;
  IF EXISTS (
    WITH RECURSIVE "went" ("packId") AS (
      SELECT NEW."oldPackId"
      UNION
      SELECT r."oldPackId" FROM "Replacement" r JOIN "went" w ON r."newPackId" = w."packId")
    SELECT 1 FROM "went" WHERE "packId" = NEW."newPackId") THEN
    RAISE EXCEPTION 'a chain of replacements never leads back to a pack that went before'
      USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  UPDATE "Pack" SET "dispatchedOn" = NEW."deliveredOn", "dispatchedToId" =
      (SELECT r."dealerId" FROM "Return" r WHERE r."packId" = returned ORDER BY r."lodgedAt" DESC LIMIT 1)
    WHERE "id" = NEW."newPackId" AND "dispatchedOn" IS NULL AND "builtOn" <= NEW."deliveredOn";
  PERFORM set_config('bench.role', asked_by, true);
  RETURN NEW;
END $$;

-- Whether a dealer hands over in place of this pack, or of one that went before it at the same customer. It looks at rows of
-- the chain that a dealer does not see, so it speaks as the system and answers yes or no.
CREATE FUNCTION "bench_hands_over"(pack uuid, dealer uuid) RETURNS boolean LANGUAGE plpgsql SECURITY DEFINER SET search_path = public, pg_temp AS $$
DECLARE
  asked_by text := bench_role();
  found boolean;
BEGIN
  PERFORM set_config('bench.role', 'system', true);
  WITH RECURSIVE "went" ("packId") AS (
    SELECT pack
    UNION
    SELECT r."oldPackId" FROM "Replacement" r JOIN "went" w ON r."newPackId" = w."packId")
  SELECT EXISTS (SELECT 1 FROM "Return" r JOIN "went" w USING ("packId")
    WHERE r."dealerId" = dealer AND r."status" = 'handed-back') INTO found;
  PERFORM set_config('bench.role', asked_by, true);
  RETURN found;
END $$;

DROP POLICY "handed_over" ON "Replacement";
CREATE POLICY "handed_over" ON "Replacement" FOR INSERT WITH CHECK (bench_hands_over("oldPackId", bench_dealer()));
