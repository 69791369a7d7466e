-- CreateTable
CREATE TABLE "ReturnDraft" (
    "id" UUID NOT NULL,
    "dealerId" UUID NOT NULL,
    "clientKey" UUID NOT NULL,
    "answers" JSONB NOT NULL,
    "reading" JSONB,
    "version" INTEGER NOT NULL DEFAULT 1,
    "isOnBehalf" BOOLEAN NOT NULL DEFAULT false,
    "startedByUserId" TEXT NOT NULL,
    "startedByName" TEXT NOT NULL,
    "savedByName" TEXT NOT NULL,
    "savedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "ReturnDraft_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "ReturnDraft_savedAt_idx" ON "ReturnDraft"("savedAt");

-- CreateIndex
CREATE UNIQUE INDEX "ReturnDraft_dealerId_clientKey_key" ON "ReturnDraft"("dealerId", "clientKey");

-- AddForeignKey
ALTER TABLE "ReturnDraft" ADD CONSTRAINT "ReturnDraft_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "ReturnDraft" ADD CONSTRAINT "ReturnDraft_version" CHECK ("version" >= 1);

-- What a dealer has not sent is the dealer's own; service sees what it began for one.
GRANT SELECT, INSERT, UPDATE, DELETE ON "ReturnDraft" TO bench_actor;
ALTER TABLE "ReturnDraft" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "ReturnDraft" FORCE ROW LEVEL SECURITY;
CREATE POLICY "own_dealer" ON "ReturnDraft"
  USING (bench_role() = 'system' OR "dealerId" = bench_dealer()
    OR (bench_role() IN ('technician', 'service-lead') AND "isOnBehalf"))
  WITH CHECK (bench_role() = 'system' OR "dealerId" = bench_dealer()
    OR (bench_role() IN ('technician', 'service-lead') AND "isOnBehalf"));
