-- AlterTable
ALTER TABLE "Return" ADD COLUMN "caseClass" TEXT;

ALTER TABLE "Return" ADD CONSTRAINT "Return_caseClass" CHECK ("caseClass" IN ('A0', 'A1', 'B', 'U', 'C'));
GRANT UPDATE ("caseClass") ON "Return" TO bench_actor;

-- A pack set apart since it was lodged came before one whose danger is going on now. It comes after that, and after a dangerous event in
-- readings, which its return keeps from its lodging.
SELECT set_config('bench.role', 'system', false);
UPDATE "Return" r SET "riskRank" = CASE
    WHEN r."dangerSigns" && ARRAY['hot', 'smoke-or-smell', 'noise-from-inside', 'fire-or-damage-nearby'] THEN 100
    WHEN EXISTS (SELECT 1 FROM "Finding" g JOIN "ReadingFile" f ON f."id" = g."readingFileId"
      WHERE f."returnId" = r."id" AND g."safetyClass" = 'A0') THEN 90
    ELSE 85 END
  WHERE r."riskRank" = 105;
SELECT set_config('bench.role', '', false);
