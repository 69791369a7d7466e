-- AlterTable
ALTER TABLE "QuarantineStay" ADD COLUMN     "endedBecause" TEXT;
