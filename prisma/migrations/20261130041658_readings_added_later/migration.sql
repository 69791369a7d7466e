-- DropIndex
DROP INDEX "ReadingFile_returnId_key";

-- AlterTable
ALTER TABLE "ColumnMapping" ALTER COLUMN "dealerId" DROP NOT NULL;

-- AlterTable
ALTER TABLE "ReadingFile" ADD COLUMN     "attachedAt" TIMESTAMPTZ(3),
ADD COLUMN     "attachedByName" TEXT,
ADD COLUMN     "attachedByRole" TEXT;

-- AlterTable
ALTER TABLE "Return" ADD COLUMN     "readingFileId" UUID;

-- CreateIndex
CREATE INDEX "ReadingFile_returnId_idx" ON "ReadingFile"("returnId");

-- CreateIndex
CREATE UNIQUE INDEX "Return_readingFileId_key" ON "Return"("readingFileId");

-- AddForeignKey
ALTER TABLE "Return" ADD CONSTRAINT "Return_readingFileId_fkey" FOREIGN KEY ("readingFileId") REFERENCES "ReadingFile"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- Readings may be added to a return after it was lodged: the newest count, the older ones stay.
-- ---------------------------------------------------------------------------------------------------------------
UPDATE "Return" r SET "readingFileId" = f."id" FROM "ReadingFile" f WHERE f."returnId" = r."id";

CREATE FUNCTION "let_readings_stand"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE "Return" SET "readingFileId" = NEW."id" WHERE "id" = NEW."returnId";
  RETURN NULL;
END $$;
CREATE TRIGGER "ReadingFile_stands" AFTER INSERT OR UPDATE OF "returnId" ON "ReadingFile" FOR EACH ROW
  WHEN (NEW."returnId" IS NOT NULL) EXECUTE FUNCTION "let_readings_stand"();

-- No return rests on the readings of another one.
CREATE FUNCTION "refuse_foreign_readings"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM "ReadingFile" f WHERE f."id" = NEW."readingFileId" AND f."returnId" = NEW."id") THEN
    RAISE EXCEPTION 'these readings do not belong to this return' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "Return_has_own_readings" BEFORE INSERT OR UPDATE OF "readingFileId" ON "Return" FOR EACH ROW
  WHEN (NEW."readingFileId" IS NOT NULL) EXECUTE FUNCTION "refuse_foreign_readings"();

GRANT UPDATE ("readingFileId") ON "Return" TO bench_actor;
GRANT UPDATE ("attachedAt", "attachedByName", "attachedByRole") ON "ReadingFile" TO bench_actor;

-- What the house's own people confirmed about columns, once for each shape.
CREATE UNIQUE INDEX "ColumnMapping_of_the_house" ON "ColumnMapping"("shapeHash") WHERE "dealerId" IS NULL;

-- The desk is told where the dealer brought readings.
ALTER TABLE "Notice" DROP CONSTRAINT "Notice_kind";
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_kind" CHECK ("kind" IN ('received', 'question', 'approved', 'expiry-reminder',
  'approval-ended', 'pack-received', 'decided', 'sent-back', 'carried-out', 'credited', 'safety', 'danger-raised',
  'lapse-proposed', 'quarantine-overdue', 'incident-call', 'question-overdue', 'help', 'solved', 'lapsed', 'merged',
  'old-pack', 'objected', 'cover-anew', 'readings-came'));
