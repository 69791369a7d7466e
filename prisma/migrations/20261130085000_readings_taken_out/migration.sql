-- CreateTable
CREATE TABLE "ReadingTakenOut" (
    "id" UUID NOT NULL,
    "readingFileId" UUID NOT NULL,
    "dealerId" UUID NOT NULL,
    "serial" TEXT NOT NULL,
    "fileName" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "byUserId" TEXT NOT NULL,

    CONSTRAINT "ReadingTakenOut_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "ReadingTakenOut_readingFileId_key" ON "ReadingTakenOut"("readingFileId");

-- CreateIndex
CREATE INDEX "ReadingTakenOut_dealerId_idx" ON "ReadingTakenOut"("dealerId");

-- AddForeignKey
ALTER TABLE "ReadingTakenOut" ADD CONSTRAINT "ReadingTakenOut_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

GRANT SELECT, INSERT ON "ReadingTakenOut" TO bench_actor;
ALTER TABLE "ReadingTakenOut" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "ReadingTakenOut" FORCE ROW LEVEL SECURITY;
CREATE POLICY "own_dealer" ON "ReadingTakenOut" USING (bench_sees_build() OR "dealerId" = bench_dealer())
  WITH CHECK (bench_role() = 'system' OR "dealerId" = bench_dealer());
CREATE TRIGGER "ReadingTakenOut_written_once" BEFORE UPDATE OR DELETE ON "ReadingTakenOut"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();

-- A file that was taken out belongs to no return any more, whichever tab or device still names it.
CREATE FUNCTION "refuse_taken_out_file"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM "ReadingTakenOut" t WHERE t."readingFileId" = NEW."id") THEN
    RAISE EXCEPTION 'this readings file was taken out' USING ERRCODE = 'integrity_constraint_violation';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "ReadingFile_not_once_taken_out" BEFORE UPDATE ON "ReadingFile"
  FOR EACH ROW WHEN (OLD."returnId" IS NULL AND NEW."returnId" IS NOT NULL) EXECUTE FUNCTION "refuse_taken_out_file"();
