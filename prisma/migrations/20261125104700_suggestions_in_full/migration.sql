-- AlterTable
ALTER TABLE "BuildRecord" ADD COLUMN     "caseGapMillimetre" DOUBLE PRECISION;

-- AlterTable
ALTER TABLE "Suggestion" ADD COLUMN     "missing" TEXT[] DEFAULT ARRAY[]::TEXT[],
ADD COLUMN     "plainReasons" TEXT[] DEFAULT ARRAY[]::TEXT[],
ADD COLUMN     "wouldChange" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- CreateTable
CREATE TABLE "CaseReading" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "gapMillimetre" DOUBLE PRECISION NOT NULL,
    "readByUserId" TEXT NOT NULL,
    "readByName" TEXT NOT NULL,
    "readAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "CaseReading_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "CaseReading_returnId_idx" ON "CaseReading"("returnId");

-- AddForeignKey
ALTER TABLE "CaseReading" ADD CONSTRAINT "CaseReading_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- ---------------------------------------------------------------------------------------------------------------
-- The case is read at the bench by the maker's own people, and read again rather than corrected.
-- ---------------------------------------------------------------------------------------------------------------
ALTER TABLE "BuildRecord"
  ADD CONSTRAINT "BuildRecord_case_gap" CHECK ("caseGapMillimetre" IS NULL OR "caseGapMillimetre" BETWEEN 0 AND 100);
ALTER TABLE "CaseReading"
  ADD CONSTRAINT "CaseReading_gap" CHECK ("gapMillimetre" BETWEEN 0 AND 100);

CREATE TRIGGER "CaseReading_written_once" BEFORE UPDATE OR DELETE ON "CaseReading"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();

ALTER TABLE "CaseReading" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "CaseReading" FORCE ROW LEVEL SECURITY;
CREATE POLICY "house" ON "CaseReading" USING (bench_sees_build()) WITH CHECK (bench_sees_build());
GRANT SELECT, INSERT ON "CaseReading" TO bench_actor;
