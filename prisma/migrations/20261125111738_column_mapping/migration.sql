-- AlterTable
ALTER TABLE "ReadingFile" ADD COLUMN     "columnAnswers" JSONB;

-- CreateTable
CREATE TABLE "ColumnMapping" (
    "id" UUID NOT NULL,
    "dealerId" UUID NOT NULL,
    "shapeHash" TEXT NOT NULL,
    "mapping" JSONB NOT NULL,
    "timeZone" TEXT,
    "confirmedByUserId" TEXT NOT NULL,
    "confirmedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "ColumnMapping_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "ColumnMapping_dealerId_shapeHash_key" ON "ColumnMapping"("dealerId", "shapeHash");

-- AddForeignKey
ALTER TABLE "ColumnMapping" ADD CONSTRAINT "ColumnMapping_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "ColumnMapping" ADD CONSTRAINT "ColumnMapping_shape_is_a_hash" CHECK ("shapeHash" ~ '^[0-9a-f]{64}$');

-- What one dealer's program writes is nobody else's business; the maker's people do not need it to read the file.
GRANT SELECT, INSERT, UPDATE, DELETE ON "ColumnMapping" TO bench_actor;
ALTER TABLE "ColumnMapping" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "ColumnMapping" FORCE ROW LEVEL SECURITY;
CREATE POLICY "own_dealer" ON "ColumnMapping" USING (bench_sees_all() OR "dealerId" = bench_dealer())
  WITH CHECK (bench_sees_all() OR "dealerId" = bench_dealer());
