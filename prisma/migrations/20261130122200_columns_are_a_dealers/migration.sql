-- What is remembered of columns belongs to the dealer whose pack was read, whoever confirmed it. What the house had kept for all
-- dealers alike is asked about once more.
DELETE FROM "ColumnMapping" WHERE "dealerId" IS NULL;
DROP INDEX "ColumnMapping_of_the_house";
ALTER TABLE "ColumnMapping" ALTER COLUMN "dealerId" SET NOT NULL;
