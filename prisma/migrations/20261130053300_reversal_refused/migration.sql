-- A refused reversal leaves its line free to be reversed again: one that is not refused at a time.
-- DropIndex
DROP INDEX "SettlementLine_reversesLineId_key";

-- CreateIndex
CREATE INDEX "SettlementLine_reversesLineId_idx" ON "SettlementLine"("reversesLineId");

CREATE UNIQUE INDEX "SettlementLine_one_reversal" ON "SettlementLine" ("reversesLineId") WHERE "state" <> 'refused';
