-- AlterTable
ALTER TABLE "WatchMeasurement" ADD COLUMN "noVoltageBecause" TEXT;

ALTER TABLE "WatchMeasurement" ADD CONSTRAINT "WatchMeasurement_no_voltage"
  CHECK ("noVoltageBecause" IS NULL OR ("terminalV" IS NULL AND length(trim("noVoltageBecause")) BETWEEN 5 AND 500));
