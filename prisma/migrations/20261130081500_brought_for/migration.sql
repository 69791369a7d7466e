-- AlterTable
ALTER TABLE "ReadingFile" ADD COLUMN "broughtForId" UUID;

-- AddForeignKey
ALTER TABLE "ReadingFile" ADD CONSTRAINT "ReadingFile_broughtForId_fkey" FOREIGN KEY ("broughtForId") REFERENCES "Return"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
