-- AlterTable
ALTER TABLE "PackModel" ADD COLUMN     "diagnosis" JSONB;

-- Parts and names are known to the program, which tells what it does not understand; here only the shape is held.
ALTER TABLE "PackModel" ADD CONSTRAINT "PackModel_diagnosis" CHECK ("diagnosis" IS NULL OR jsonb_typeof("diagnosis") = 'object');
