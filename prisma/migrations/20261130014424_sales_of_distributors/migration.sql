-- CreateTable
CREATE TABLE "DistributorSale" (
    "id" UUID NOT NULL,
    "packId" UUID NOT NULL,
    "soldOn" DATE NOT NULL,
    "averageShelfDays" INTEGER NOT NULL,
    "distributor" TEXT NOT NULL,
    "importedAt" TIMESTAMPTZ(3) NOT NULL,
    "importedByUserId" TEXT NOT NULL,
    "importedByName" TEXT NOT NULL,

    CONSTRAINT "DistributorSale_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "DistributorSale_packId_importedAt_idx" ON "DistributorSale"("packId", "importedAt");

-- AddForeignKey
ALTER TABLE "DistributorSale" ADD CONSTRAINT "DistributorSale_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "DistributorSale"
  ADD CONSTRAINT "DistributorSale_shelf" CHECK ("averageShelfDays" BETWEEN 0 AND 3660),
  ADD CONSTRAINT "DistributorSale_distributor" CHECK (char_length(trim("distributor")) BETWEEN 2 AND 200);
CREATE TRIGGER "DistributorSale_written_once" BEFORE UPDATE OR DELETE ON "DistributorSale"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
ALTER TABLE "DistributorSale" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "DistributorSale" FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT ON "DistributorSale" TO bench_actor;
CREATE POLICY "read_by_house" ON "DistributorSale" FOR SELECT USING (bench_sees_build());
CREATE POLICY "brought_in_by_managers" ON "DistributorSale" FOR INSERT WITH CHECK (bench_role() IN ('manager', 'system'));
