-- AlterTable
ALTER TABLE "QuarantineStay" ADD COLUMN "noFacesBecause" TEXT;

ALTER TABLE "QuarantineStay" ADD CONSTRAINT "QuarantineStay_no_faces"
  CHECK ("noFacesBecause" IS NULL OR length(trim("noFacesBecause")) BETWEEN 10 AND 500);

GRANT UPDATE ("noFacesBecause") ON "QuarantineStay" TO bench_actor;
