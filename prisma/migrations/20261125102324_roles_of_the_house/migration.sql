-- AlterTable
ALTER TABLE "User" ADD COLUMN     "safetyDeputyUntil" TIMESTAMPTZ(3);

-- ---------------------------------------------------------------------------------------------------------------
-- Eight roles instead of three. Whoever served the bench becomes a technician; a lead is named by hand.
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "User" DROP CONSTRAINT "User_role", DROP CONSTRAINT "User_dealer";
UPDATE "User" SET "role" = 'technician' WHERE "role" = 'service';
ALTER TABLE "User"
  ADD CONSTRAINT "User_role" CHECK ("role" IN ('dealer', 'dealer-admin', 'technician', 'service-lead', 'manager',
    'safety-officer', 'finance', 'administrator')),
  ADD CONSTRAINT "User_dealer" CHECK (("role" IN ('dealer', 'dealer-admin')) = ("dealerId" IS NOT NULL)),
  ADD CONSTRAINT "User_deputy" CHECK ("safetyDeputyUntil" IS NULL OR "dealerId" IS NULL);

-- Whoever works on returns of every dealer. Finance sees the cases it pays for; the administrator keeps accounts and
-- sees no case.
CREATE OR REPLACE FUNCTION "bench_sees_all"() RETURNS boolean LANGUAGE sql STABLE AS
  $$ SELECT coalesce(current_setting('bench.role', true), '') IN
    ('technician', 'service-lead', 'manager', 'safety-officer', 'finance', 'system') $$;

-- How packs are built and what their readings show is the bench's; finance needs neither.
CREATE FUNCTION "bench_sees_build"() RETURNS boolean LANGUAGE sql STABLE AS
  $$ SELECT coalesce(current_setting('bench.role', true), '') IN
    ('technician', 'service-lead', 'manager', 'safety-officer', 'system') $$;

CREATE FUNCTION "bench_role"() RETURNS text LANGUAGE sql STABLE AS
  $$ SELECT coalesce(current_setting('bench.role', true), '') $$;

DO $$
DECLARE
  t text;
BEGIN
  FOREACH t IN ARRAY ARRAY['Lot', 'PackLot', 'KnownIssue', 'BuildRecord', 'Replacement']
  LOOP
    EXECUTE format('DROP POLICY "house" ON %I', t);
    EXECUTE format('CREATE POLICY "house" ON %I USING (bench_sees_build()) WITH CHECK (bench_sees_build())', t);
  END LOOP;
END $$;

DROP POLICY "own_dealer" ON "ReadingFile";
CREATE POLICY "own_dealer" ON "ReadingFile" USING (bench_sees_build() OR "dealerId" = bench_dealer())
  WITH CHECK (bench_sees_build() OR "dealerId" = bench_dealer());

-- An account belongs to a dealer, so whoever keeps accounts must see which dealers there are.
DROP POLICY "own_dealer" ON "Dealer";
CREATE POLICY "own_dealer" ON "Dealer" USING (bench_sees_all() OR bench_role() = 'administrator' OR "id" = bench_dealer())
  WITH CHECK (bench_sees_all() OR bench_role() = 'administrator');
