-- AlterTable
ALTER TABLE "IdentitySettlement" ADD COLUMN "outcome" TEXT NOT NULL DEFAULT 'same-pack';

ALTER TABLE "IdentitySettlement" ADD CONSTRAINT "IdentitySettlement_outcome" CHECK ("outcome" IN ('same-pack', 'other-pack'));
