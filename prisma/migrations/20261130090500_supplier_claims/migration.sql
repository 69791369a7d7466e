-- CreateTable
CREATE TABLE "SupplierClaim" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "lotId" UUID NOT NULL,
    "lotCode" TEXT NOT NULL,
    "supplier" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "amountMinor" INTEGER NOT NULL,
    "noticeBy" DATE,
    "why" TEXT NOT NULL,
    "openedAt" TIMESTAMPTZ(3) NOT NULL,
    "openedByUserId" TEXT NOT NULL,
    "openedByName" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "sharePercent" DOUBLE PRECISION,
    "agreedMinor" INTEGER,
    "agreedByUserId" TEXT,
    "recoveredMinor" INTEGER,

    CONSTRAINT "SupplierClaim_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SupplierMove" (
    "id" UUID NOT NULL,
    "claimId" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "from" TEXT,
    "to" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "sharePercent" DOUBLE PRECISION,
    "amountMinor" INTEGER,
    "actorUserId" TEXT NOT NULL,
    "actorName" TEXT NOT NULL,
    "actorRole" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SupplierMove_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "SupplierClaim_returnId_lotId_key" ON "SupplierClaim"("returnId", "lotId");

-- CreateIndex
CREATE INDEX "SupplierClaim_supplier_state_idx" ON "SupplierClaim"("supplier", "state");

-- CreateIndex
CREATE INDEX "SupplierClaim_lotId_idx" ON "SupplierClaim"("lotId");

-- CreateIndex
CREATE UNIQUE INDEX "SupplierMove_claimId_version_key" ON "SupplierMove"("claimId", "version");

-- AddForeignKey
ALTER TABLE "SupplierClaim" ADD CONSTRAINT "SupplierClaim_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SupplierClaim" ADD CONSTRAINT "SupplierClaim_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "Lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SupplierMove" ADD CONSTRAINT "SupplierMove_claimId_fkey" FOREIGN KEY ("claimId") REFERENCES "SupplierClaim"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "SupplierClaim" ADD CONSTRAINT "SupplierClaim_values" CHECK (
  "state" IN ('possible', 'notified', 'share-agreed', 'recovered', 'written-off')
  AND "currency" ~ '^[A-Z]{3}$' AND "amountMinor" > 0 AND char_length("why") >= 3
  AND ("sharePercent" IS NULL OR ("sharePercent" > 0 AND "sharePercent" <= 100))
  AND ("agreedMinor" IS NULL OR ("agreedMinor" > 0 AND "agreedMinor" <= "amountMinor"))
  AND ("recoveredMinor" IS NULL OR ("recoveredMinor" > 0 AND "recoveredMinor" <= "agreedMinor"))
  AND ("state" <> 'share-agreed' OR ("agreedMinor" IS NOT NULL AND "sharePercent" IS NOT NULL))
  AND ("state" = 'recovered') = ("recoveredMinor" IS NOT NULL));

-- What a line is about never changes, and what ended stays ended.
CREATE FUNCTION "keep_supplier_claim"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' OR OLD."state" IN ('recovered', 'written-off') OR NEW."version" <> OLD."version" + 1
    OR (NEW."returnId", NEW."lotId", NEW."lotCode", NEW."supplier", NEW."currency", NEW."amountMinor", NEW."why", NEW."openedAt", NEW."openedByUserId")
      IS DISTINCT FROM (OLD."returnId", OLD."lotId", OLD."lotCode", OLD."supplier", OLD."currency", OLD."amountMinor", OLD."why", OLD."openedAt", OLD."openedByUserId")
    OR (OLD."agreedMinor" IS NOT NULL AND NEW."agreedMinor" IS DISTINCT FROM OLD."agreedMinor") THEN
    RAISE EXCEPTION 'a supplier''s line is moved on, never edited';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "SupplierClaim_never_edited" BEFORE UPDATE OR DELETE ON "SupplierClaim"
  FOR EACH ROW EXECUTE FUNCTION "keep_supplier_claim"();
CREATE TRIGGER "SupplierMove_written_once" BEFORE UPDATE OR DELETE ON "SupplierMove"
  FOR EACH ROW EXECUTE FUNCTION "refuse_change"();

-- No dealer and nobody of the bench reads what is asked of a supplier.
ALTER TABLE "SupplierClaim" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "SupplierClaim" FORCE ROW LEVEL SECURITY;
ALTER TABLE "SupplierMove" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "SupplierMove" FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT ON "SupplierClaim", "SupplierMove" TO bench_actor;
GRANT UPDATE ("state", "version", "sharePercent", "agreedMinor", "agreedByUserId", "recoveredMinor") ON "SupplierClaim" TO bench_actor;
CREATE POLICY "for_money" ON "SupplierClaim" USING (bench_role() IN ('manager', 'finance', 'system'))
  WITH CHECK (bench_role() IN ('manager', 'finance', 'system'));
CREATE POLICY "for_money" ON "SupplierMove" USING (bench_role() IN ('manager', 'finance', 'system'))
  WITH CHECK (bench_role() IN ('manager', 'finance', 'system'));
