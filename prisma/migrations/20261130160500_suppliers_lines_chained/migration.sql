-- AlterTable
ALTER TABLE "SupplierMove" ADD COLUMN     "form" TEXT,
ADD COLUMN     "hash" TEXT,
ADD COLUMN     "previousHash" TEXT;

-- What was written before stays as it is, unchained; nothing new is.
ALTER TABLE "SupplierMove" ADD CONSTRAINT "SupplierMove_chained"
  CHECK ("form" IS NOT NULL AND "previousHash" IS NOT NULL AND "hash" ~ '^[0-9a-f]{64}$') NOT VALID;
CREATE TRIGGER "SupplierMove_marked" AFTER INSERT ON "SupplierMove"
  FOR EACH ROW EXECUTE FUNCTION "mark_chain"('supplier', 'claimId');

-- When their chains began, with how many rows before. The policies of the tables hold for their owner too.
ALTER TABLE "ChainBeginning" DROP CONSTRAINT "ChainBeginning_kind";
ALTER TABLE "ChainBeginning" ADD CONSTRAINT "ChainBeginning_kind"
  CHECK ("kind" IN ('incident', 'line', 'supplier') AND "unchained" >= 0);
SELECT set_config('bench.role', 'system', false);
INSERT INTO "ChainBeginning" ("kind", "at", "unchained") VALUES
  ('supplier', now(), (SELECT count(*) FROM "SupplierMove" WHERE "hash" IS NULL));
SELECT set_config('bench.role', '', false);

-- What a line is about never changes; neither does the day of its notice, nor who opened it, nor what was agreed and by whom.
CREATE OR REPLACE FUNCTION "keep_supplier_claim"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD."state" IN ('recovered', 'written-off') OR NEW."version" <> OLD."version" + 1
    OR (NEW."returnId", NEW."lotId", NEW."lotCode", NEW."supplier", NEW."currency", NEW."amountMinor", NEW."noticeBy", NEW."why",
        NEW."openedAt", NEW."openedByUserId", NEW."openedByName")
      IS DISTINCT FROM (OLD."returnId", OLD."lotId", OLD."lotCode", OLD."supplier", OLD."currency", OLD."amountMinor", OLD."noticeBy",
        OLD."why", OLD."openedAt", OLD."openedByUserId", OLD."openedByName")
    OR (OLD."agreedMinor" IS NOT NULL AND (NEW."agreedMinor", NEW."sharePercent", NEW."agreedByUserId")
      IS DISTINCT FROM (OLD."agreedMinor", OLD."sharePercent", OLD."agreedByUserId")) THEN
    RAISE EXCEPTION 'a supplier''s line is moved on, never edited';
  END IF;
  RETURN NEW;
END $$;
