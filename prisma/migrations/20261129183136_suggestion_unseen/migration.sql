-- AlterTable
ALTER TABLE "Suggestion" ADD COLUMN     "unseen" JSONB NOT NULL DEFAULT '[]';
