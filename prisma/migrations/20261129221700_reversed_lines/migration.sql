-- A line whose reversal was approved is reversed: its work may be claimed anew.
-- AlterTable
ALTER TABLE "SettlementLine" ADD COLUMN     "reversedAt" TIMESTAMPTZ(3);

ALTER TABLE "SettlementLine" ADD CONSTRAINT "SettlementLine_reversed" CHECK (
  "reversedAt" IS NULL OR ("kind" <> 'reversal' AND "state" IN ('in-statement', 'paid')));

-- A paid line stays paid; that it was reversed is written beside it, once.
CREATE OR REPLACE FUNCTION "refuse_line_edit"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  moving text[] := ARRAY['state', 'version', 'reason', 'approvedByUserId', 'approvedByName', 'statementId', 'reversedAt'];
BEGIN
  IF TG_OP = 'DELETE'
    OR (to_jsonb(NEW) - moving) IS DISTINCT FROM (to_jsonb(OLD) - moving)
    OR (OLD."reversedAt" IS NOT NULL AND NEW."reversedAt" IS DISTINCT FROM OLD."reversedAt")
    OR (OLD."state" IN ('paid', 'refused')
      AND (to_jsonb(NEW) - ARRAY['reversedAt']) IS DISTINCT FROM (to_jsonb(OLD) - ARRAY['reversedAt'])) THEN
    RAISE EXCEPTION 'a line of money is never edited: reverse it by a new one' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;

-- Rows written before: a reversal that was approved reversed its line. Row-level security is forced on the owner too.
SELECT set_config('bench.role', 'system', false);
UPDATE "SettlementLine" l SET "reversedAt" = m."at"
  FROM "SettlementLine" r JOIN "SettlementMove" m ON m."lineId" = r."id" AND m."to" = 'approved'
  WHERE r."reversesLineId" = l."id" AND r."state" IN ('approved', 'in-statement', 'paid');
SELECT set_config('bench.role', '', false);

DROP INDEX "SettlementLine_once_per_return";
CREATE UNIQUE INDEX "SettlementLine_once_per_return" ON "SettlementLine" ("returnId", "kind", "operation")
  WHERE "state" <> 'refused' AND "kind" <> 'reversal' AND "reversedAt" IS NULL;

GRANT UPDATE ("reversedAt") ON "SettlementLine" TO bench_actor;
