-- CreateTable
CREATE TABLE "Dealer" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "town" TEXT NOT NULL,
    "country" TEXT NOT NULL,
    "timeZone" TEXT NOT NULL,
    "joinedOn" DATE NOT NULL,

    CONSTRAINT "Dealer_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Sale" (
    "id" UUID NOT NULL,
    "packId" UUID NOT NULL,
    "dealerId" UUID NOT NULL,
    "soldOn" DATE NOT NULL,
    "zone" TEXT NOT NULL,
    "buyerKind" TEXT NOT NULL,
    "evidence" TEXT NOT NULL,
    "registeredOn" DATE,
    "underObservationFrom" DATE NOT NULL,

    CONSTRAINT "Sale_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "WarrantyPolicy" (
    "id" UUID NOT NULL,
    "version" TEXT NOT NULL,
    "validFrom" DATE NOT NULL,
    "months" INTEGER NOT NULL,
    "graceDays" INTEGER NOT NULL,
    "leapDay" TEXT NOT NULL,
    "stockAgeCapMonths" INTEGER,
    "replacementRule" TEXT NOT NULL,
    "minimumDays" INTEGER NOT NULL,

    CONSTRAINT "WarrantyPolicy_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "PackModel" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "chemistry" TEXT NOT NULL,
    "seriesCount" INTEGER NOT NULL,
    "parallelCount" INTEGER NOT NULL,
    "ratedCapacityAh" DOUBLE PRECISION NOT NULL,
    "ratedVoltageV" DOUBLE PRECISION NOT NULL,
    "cellMaxV" DOUBLE PRECISION NOT NULL,
    "cellMinV" DOUBLE PRECISION NOT NULL,
    "continuousDischargeA" DOUBLE PRECISION NOT NULL,
    "peakDischargeA" DOUBLE PRECISION NOT NULL,
    "peakSeconds" DOUBLE PRECISION NOT NULL,
    "chargeMaxA" DOUBLE PRECISION NOT NULL,
    "chargeMinTemperatureC" DOUBLE PRECISION NOT NULL,
    "chargeMaxTemperatureC" DOUBLE PRECISION NOT NULL,
    "cyclesTo80Percent" INTEGER NOT NULL,
    "groupResistanceMilliohm" DOUBLE PRECISION,
    "openCircuit" JSONB,
    "massKg" DOUBLE PRECISION NOT NULL,

    CONSTRAINT "PackModel_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Revision" (
    "id" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "ordinal" INTEGER NOT NULL,
    "changes" JSONB NOT NULL,
    "potted" BOOLEAN NOT NULL,
    "cellsRepairable" BOOLEAN NOT NULL,
    "boardHardware" TEXT NOT NULL,
    "firmware" TEXT NOT NULL,
    "introducedOn" DATE NOT NULL,
    "supersededOn" DATE,
    "testSummaryReference" TEXT NOT NULL,

    CONSTRAINT "Revision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "RevisionReplacement" (
    "replacedId" UUID NOT NULL,
    "replacementId" UUID NOT NULL,
    "note" TEXT NOT NULL,

    CONSTRAINT "RevisionReplacement_pkey" PRIMARY KEY ("replacedId","replacementId")
);

-- CreateTable
CREATE TABLE "KnownIssue" (
    "id" UUID NOT NULL,
    "title" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "revisionId" UUID,
    "lotId" UUID,
    "faults" TEXT[],
    "suggestedRemedy" TEXT,
    "stopShip" BOOLEAN NOT NULL DEFAULT false,
    "openedOn" DATE NOT NULL,
    "closedOn" DATE,

    CONSTRAINT "KnownIssue_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Lot" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "code" TEXT NOT NULL,
    "supplier" TEXT NOT NULL,
    "receivedOn" DATE NOT NULL,

    CONSTRAINT "Lot_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Pack" (
    "id" UUID NOT NULL,
    "serial" TEXT NOT NULL,
    "revisionId" UUID NOT NULL,
    "builtOn" DATE NOT NULL,
    "dispatchedOn" DATE,
    "dispatchedToId" UUID,

    CONSTRAINT "Pack_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "BuildRecord" (
    "packId" UUID NOT NULL,
    "capacityAh" DOUBLE PRECISION NOT NULL,
    "loadTestCurrentA" DOUBLE PRECISION NOT NULL,
    "loadTestSagV" DOUBLE PRECISION NOT NULL,
    "groupResistanceMilliohm" DOUBLE PRECISION[],
    "matchingSpreadMillivolt" DOUBLE PRECISION NOT NULL,
    "insulationMegaohm" DOUBLE PRECISION NOT NULL,
    "vibrationPassed" BOOLEAN NOT NULL,
    "boardIdentity" TEXT NOT NULL,
    "firmware" TEXT NOT NULL,
    "concession" TEXT,
    "recordedOn" DATE NOT NULL,

    CONSTRAINT "BuildRecord_pkey" PRIMARY KEY ("packId")
);

-- CreateTable
CREATE TABLE "PackLot" (
    "packId" UUID NOT NULL,
    "lotId" UUID NOT NULL,

    CONSTRAINT "PackLot_pkey" PRIMARY KEY ("packId","lotId")
);

-- CreateTable
CREATE TABLE "Replacement" (
    "id" UUID NOT NULL,
    "oldPackId" UUID NOT NULL,
    "newPackId" UUID NOT NULL,
    "deliveredOn" DATE NOT NULL,

    CONSTRAINT "Replacement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ReadingFile" (
    "id" UUID NOT NULL,
    "returnId" UUID,
    "dealerId" UUID NOT NULL,
    "serial" TEXT NOT NULL,
    "fileName" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "sizeBytes" BIGINT NOT NULL,
    "uploadedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "uploadedByUserId" TEXT NOT NULL,
    "parserVersion" TEXT NOT NULL,
    "rows" INTEGER NOT NULL,
    "groups" INTEGER NOT NULL,
    "coverage" DOUBLE PRECISION NOT NULL,
    "timeRepairs" INTEGER NOT NULL,
    "currentSign" TEXT NOT NULL,
    "startedAt" TIMESTAMPTZ(3),
    "spanSeconds" DOUBLE PRECISION NOT NULL,
    "rejectedRows" INTEGER NOT NULL,
    "rejected" JSONB NOT NULL,
    "remarks" TEXT[],
    "traces" JSONB NOT NULL,

    CONSTRAINT "ReadingFile_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Measurement" (
    "id" UUID NOT NULL,
    "readingFileId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "group" INTEGER,
    "value" DOUBLE PRECISION NOT NULL,
    "unit" TEXT NOT NULL,
    "uncertainty" DOUBLE PRECISION,
    "method" TEXT NOT NULL,
    "conditions" TEXT NOT NULL,

    CONSTRAINT "Measurement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Finding" (
    "id" UUID NOT NULL,
    "readingFileId" UUID NOT NULL,
    "rank" INTEGER NOT NULL,
    "fault" TEXT NOT NULL,
    "groups" INTEGER[],
    "confidence" DOUBLE PRECISION NOT NULL,
    "safetyClass" TEXT NOT NULL,
    "evidenceFor" TEXT[],
    "evidenceAgainst" TEXT[],
    "nextTest" TEXT NOT NULL,

    CONSTRAINT "Finding_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Suggestion" (
    "id" UUID NOT NULL,
    "readingFileId" UUID NOT NULL,
    "remedy" TEXT NOT NULL,
    "reasons" TEXT[],
    "ruleVersion" TEXT NOT NULL,
    "madeAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Suggestion_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Return" (
    "id" UUID NOT NULL,
    "reference" TEXT NOT NULL,
    "packId" UUID NOT NULL,
    "dealerId" UUID NOT NULL,
    "clientKey" UUID NOT NULL,
    "clientFingerprint" TEXT NOT NULL,
    "status" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "dangerSigns" TEXT[],
    "riskRank" INTEGER NOT NULL DEFAULT 0,
    "noticedOn" DATE NOT NULL,
    "toldOn" DATE NOT NULL,
    "lodgedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "concern" TEXT NOT NULL,
    "symptom" TEXT NOT NULL,
    "conditions" TEXT[],
    "noFileReason" TEXT,
    "soldOnStated" DATE,
    "soldOnEvidence" TEXT,
    "coverOutcome" TEXT NOT NULL,
    "coverStartsOn" DATE,
    "coverEndsOn" DATE,
    "coverEvidence" TEXT,
    "coverPolicyVersion" TEXT NOT NULL,
    "coverBecause" TEXT[],
    "takenByName" TEXT,

    CONSTRAINT "Return_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ReturnMove" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "sequence" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "actorUserId" TEXT NOT NULL,
    "actorName" TEXT NOT NULL,
    "actorRole" TEXT NOT NULL,
    "from" TEXT,
    "to" TEXT NOT NULL,
    "reason" TEXT NOT NULL,
    "dataVersion" INTEGER NOT NULL,
    "ruleVersion" TEXT,
    "previousHash" TEXT NOT NULL,
    "hash" TEXT NOT NULL,

    CONSTRAINT "ReturnMove_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Decision" (
    "id" UUID NOT NULL,
    "returnId" UUID NOT NULL,
    "remedy" TEXT NOT NULL,
    "confirmedFault" TEXT NOT NULL,
    "confirmedFailure" BOOLEAN NOT NULL,
    "reason" TEXT NOT NULL,
    "replacementRevisionId" UUID,
    "suggestionId" UUID,
    "seenVersion" INTEGER NOT NULL,
    "decidedByUserId" TEXT NOT NULL,
    "decidedByName" TEXT NOT NULL,
    "decidedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "Decision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SafetyFlag" (
    "id" UUID NOT NULL,
    "packId" UUID NOT NULL,
    "returnId" UUID,
    "dealerId" UUID NOT NULL,
    "signs" TEXT[],
    "raisedByUserId" TEXT NOT NULL,
    "raisedByName" TEXT NOT NULL,
    "raisedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SafetyFlag_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Instance" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "mode" TEXT NOT NULL DEFAULT 'live',
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Instance_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "User" (
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "email" TEXT NOT NULL,
    "emailVerified" BOOLEAN NOT NULL DEFAULT false,
    "image" TEXT,
    "role" TEXT NOT NULL,
    "dealerId" UUID,
    "isDemo" BOOLEAN NOT NULL DEFAULT false,
    "disabledAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "User_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Session" (
    "id" TEXT NOT NULL,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "token" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" TIMESTAMPTZ(3) NOT NULL,
    "ipAddress" TEXT,
    "userAgent" TEXT,
    "userId" TEXT NOT NULL,

    CONSTRAINT "Session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Account" (
    "id" TEXT NOT NULL,
    "accountId" TEXT NOT NULL,
    "providerId" TEXT NOT NULL,
    "userId" TEXT NOT NULL,
    "accessToken" TEXT,
    "refreshToken" TEXT,
    "idToken" TEXT,
    "accessTokenExpiresAt" TIMESTAMPTZ(3),
    "refreshTokenExpiresAt" TIMESTAMPTZ(3),
    "scope" TEXT,
    "password" TEXT,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "Account_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Verification" (
    "id" TEXT NOT NULL,
    "identifier" TEXT NOT NULL,
    "value" TEXT NOT NULL,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updatedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "Verification_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "RateLimiterFlexible" (
    "key" TEXT NOT NULL,
    "points" INTEGER NOT NULL,
    "expire" TIMESTAMP(3),

    CONSTRAINT "RateLimiterFlexible_pkey" PRIMARY KEY ("key")
);

-- CreateIndex
CREATE UNIQUE INDEX "Dealer_code_key" ON "Dealer"("code");

-- CreateIndex
CREATE UNIQUE INDEX "Sale_packId_key" ON "Sale"("packId");

-- CreateIndex
CREATE INDEX "Sale_dealerId_idx" ON "Sale"("dealerId");

-- CreateIndex
CREATE UNIQUE INDEX "WarrantyPolicy_version_key" ON "WarrantyPolicy"("version");

-- CreateIndex
CREATE UNIQUE INDEX "WarrantyPolicy_validFrom_key" ON "WarrantyPolicy"("validFrom");

-- CreateIndex
CREATE UNIQUE INDEX "PackModel_code_key" ON "PackModel"("code");

-- CreateIndex
CREATE UNIQUE INDEX "Revision_code_key" ON "Revision"("code");

-- CreateIndex
CREATE UNIQUE INDEX "Revision_modelId_ordinal_key" ON "Revision"("modelId", "ordinal");

-- CreateIndex
CREATE INDEX "RevisionReplacement_replacementId_idx" ON "RevisionReplacement"("replacementId");

-- CreateIndex
CREATE INDEX "KnownIssue_revisionId_idx" ON "KnownIssue"("revisionId");

-- CreateIndex
CREATE INDEX "KnownIssue_lotId_idx" ON "KnownIssue"("lotId");

-- CreateIndex
CREATE UNIQUE INDEX "Lot_kind_code_key" ON "Lot"("kind", "code");

-- CreateIndex
CREATE UNIQUE INDEX "Pack_serial_key" ON "Pack"("serial");

-- CreateIndex
CREATE INDEX "Pack_revisionId_idx" ON "Pack"("revisionId");

-- CreateIndex
CREATE INDEX "Pack_dispatchedToId_idx" ON "Pack"("dispatchedToId");

-- CreateIndex
CREATE UNIQUE INDEX "BuildRecord_boardIdentity_key" ON "BuildRecord"("boardIdentity");

-- CreateIndex
CREATE INDEX "PackLot_lotId_idx" ON "PackLot"("lotId");

-- CreateIndex
CREATE UNIQUE INDEX "Replacement_oldPackId_key" ON "Replacement"("oldPackId");

-- CreateIndex
CREATE UNIQUE INDEX "Replacement_newPackId_key" ON "Replacement"("newPackId");

-- CreateIndex
CREATE UNIQUE INDEX "ReadingFile_returnId_key" ON "ReadingFile"("returnId");

-- CreateIndex
CREATE INDEX "ReadingFile_dealerId_idx" ON "ReadingFile"("dealerId");

-- CreateIndex
CREATE INDEX "ReadingFile_sha256_idx" ON "ReadingFile"("sha256");

-- CreateIndex
CREATE INDEX "Measurement_readingFileId_idx" ON "Measurement"("readingFileId");

-- CreateIndex
CREATE UNIQUE INDEX "Finding_readingFileId_rank_key" ON "Finding"("readingFileId", "rank");

-- CreateIndex
CREATE UNIQUE INDEX "Suggestion_readingFileId_key" ON "Suggestion"("readingFileId");

-- CreateIndex
CREATE UNIQUE INDEX "Return_reference_key" ON "Return"("reference");

-- CreateIndex
CREATE INDEX "Return_packId_idx" ON "Return"("packId");

-- CreateIndex
CREATE INDEX "Return_status_riskRank_lodgedAt_idx" ON "Return"("status", "riskRank" DESC, "lodgedAt");

-- CreateIndex
CREATE UNIQUE INDEX "Return_dealerId_clientKey_key" ON "Return"("dealerId", "clientKey");

-- CreateIndex
CREATE UNIQUE INDEX "ReturnMove_returnId_sequence_key" ON "ReturnMove"("returnId", "sequence");

-- CreateIndex
CREATE UNIQUE INDEX "Decision_returnId_key" ON "Decision"("returnId");

-- CreateIndex
CREATE INDEX "Decision_suggestionId_idx" ON "Decision"("suggestionId");

-- CreateIndex
CREATE INDEX "Decision_replacementRevisionId_idx" ON "Decision"("replacementRevisionId");

-- CreateIndex
CREATE INDEX "SafetyFlag_packId_idx" ON "SafetyFlag"("packId");

-- CreateIndex
CREATE INDEX "SafetyFlag_returnId_idx" ON "SafetyFlag"("returnId");

-- CreateIndex
CREATE INDEX "SafetyFlag_dealerId_idx" ON "SafetyFlag"("dealerId");

-- CreateIndex
CREATE UNIQUE INDEX "User_email_key" ON "User"("email");

-- CreateIndex
CREATE INDEX "User_dealerId_idx" ON "User"("dealerId");

-- CreateIndex
CREATE UNIQUE INDEX "Session_token_key" ON "Session"("token");

-- CreateIndex
CREATE INDEX "Session_userId_idx" ON "Session"("userId");

-- CreateIndex
CREATE INDEX "Account_userId_idx" ON "Account"("userId");

-- CreateIndex
CREATE INDEX "Verification_identifier_idx" ON "Verification"("identifier");

-- AddForeignKey
ALTER TABLE "Sale" ADD CONSTRAINT "Sale_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Sale" ADD CONSTRAINT "Sale_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Revision" ADD CONSTRAINT "Revision_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "PackModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RevisionReplacement" ADD CONSTRAINT "RevisionReplacement_replacedId_fkey" FOREIGN KEY ("replacedId") REFERENCES "Revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RevisionReplacement" ADD CONSTRAINT "RevisionReplacement_replacementId_fkey" FOREIGN KEY ("replacementId") REFERENCES "Revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "KnownIssue" ADD CONSTRAINT "KnownIssue_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "Revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "KnownIssue" ADD CONSTRAINT "KnownIssue_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "Lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Pack" ADD CONSTRAINT "Pack_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "Revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Pack" ADD CONSTRAINT "Pack_dispatchedToId_fkey" FOREIGN KEY ("dispatchedToId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BuildRecord" ADD CONSTRAINT "BuildRecord_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PackLot" ADD CONSTRAINT "PackLot_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PackLot" ADD CONSTRAINT "PackLot_lotId_fkey" FOREIGN KEY ("lotId") REFERENCES "Lot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Replacement" ADD CONSTRAINT "Replacement_oldPackId_fkey" FOREIGN KEY ("oldPackId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Replacement" ADD CONSTRAINT "Replacement_newPackId_fkey" FOREIGN KEY ("newPackId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ReadingFile" ADD CONSTRAINT "ReadingFile_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ReadingFile" ADD CONSTRAINT "ReadingFile_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Measurement" ADD CONSTRAINT "Measurement_readingFileId_fkey" FOREIGN KEY ("readingFileId") REFERENCES "ReadingFile"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Finding" ADD CONSTRAINT "Finding_readingFileId_fkey" FOREIGN KEY ("readingFileId") REFERENCES "ReadingFile"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Suggestion" ADD CONSTRAINT "Suggestion_readingFileId_fkey" FOREIGN KEY ("readingFileId") REFERENCES "ReadingFile"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Return" ADD CONSTRAINT "Return_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Return" ADD CONSTRAINT "Return_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ReturnMove" ADD CONSTRAINT "ReturnMove_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Decision" ADD CONSTRAINT "Decision_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Decision" ADD CONSTRAINT "Decision_replacementRevisionId_fkey" FOREIGN KEY ("replacementRevisionId") REFERENCES "Revision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Decision" ADD CONSTRAINT "Decision_suggestionId_fkey" FOREIGN KEY ("suggestionId") REFERENCES "Suggestion"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SafetyFlag" ADD CONSTRAINT "SafetyFlag_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SafetyFlag" ADD CONSTRAINT "SafetyFlag_returnId_fkey" FOREIGN KEY ("returnId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SafetyFlag" ADD CONSTRAINT "SafetyFlag_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "User" ADD CONSTRAINT "User_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Session" ADD CONSTRAINT "Session_userId_fkey" FOREIGN KEY ("userId") REFERENCES "User"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Account" ADD CONSTRAINT "Account_userId_fkey" FOREIGN KEY ("userId") REFERENCES "User"("id") ON DELETE CASCADE ON UPDATE CASCADE;
