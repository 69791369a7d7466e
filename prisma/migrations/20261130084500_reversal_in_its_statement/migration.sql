-- A reversal that is approved while its line waits in an unpaid statement goes into that statement. Its total is the sum of its
-- lines or it does not change.
CREATE OR REPLACE FUNCTION "refuse_statement_edit"() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  paying text[] := ARRAY['paymentReference', 'paidAt', 'paidByUserId'];
BEGIN
  IF TG_OP = 'DELETE' OR OLD."paidAt" IS NOT NULL
    OR (to_jsonb(NEW) - paying - 'totalMinor') IS DISTINCT FROM (to_jsonb(OLD) - paying - 'totalMinor')
    OR (NEW."totalMinor" <> OLD."totalMinor" AND (NEW."paidAt" IS NOT NULL
      OR NEW."totalMinor" <> (SELECT sum(l."amountMinor") FROM "SettlementLine" l WHERE l."statementId" = NEW."id"))) THEN
    RAISE EXCEPTION 'a closed statement is never edited' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
GRANT UPDATE ("totalMinor") ON "SettlementStatement" TO bench_actor;
