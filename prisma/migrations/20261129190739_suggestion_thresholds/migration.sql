-- AlterTable
ALTER TABLE "Suggestion" ADD COLUMN     "thresholds" JSONB NOT NULL DEFAULT '{}';
