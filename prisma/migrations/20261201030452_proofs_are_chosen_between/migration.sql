-- A named person chooses between two proofs: no photograph comes then, but the days that were not taken are kept.
ALTER TABLE "EarlierCover" ADD COLUMN     "chosenAgainst" DATE[] DEFAULT ARRAY[]::DATE[],
ALTER COLUMN "proofId" DROP NOT NULL;
ALTER TABLE "EarlierCover" ADD CONSTRAINT "EarlierCover_proof_or_choice" CHECK (("proofId" IS NULL) = (cardinality("chosenAgainst") > 0));
