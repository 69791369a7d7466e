-- AlterTable
ALTER TABLE "Calibration" ADD COLUMN     "asFound" TEXT;

ALTER TABLE "Calibration" ADD CONSTRAINT "Calibration_as_found"
  CHECK ("asFound" IS NULL OR "asFound" IN ('within', 'off', 'cannot-tell'));
