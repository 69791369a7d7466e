-- AlterTable
ALTER TABLE "Incident" ALTER COLUMN "dealerId" DROP NOT NULL;
