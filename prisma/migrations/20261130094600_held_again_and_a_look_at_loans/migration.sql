-- AlterTable
ALTER TABLE "PackLetGo" ADD COLUMN     "decisionId" UUID,
ADD COLUMN     "kind" TEXT NOT NULL DEFAULT 'let-go';

-- AlterTable
ALTER TABLE "PackLoan" ADD COLUMN     "look" TEXT;

-- AddForeignKey
ALTER TABLE "PackLetGo" ADD CONSTRAINT "PackLetGo_decisionId_fkey" FOREIGN KEY ("decisionId") REFERENCES "Decision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A pack that was let go can be held back again, and a word counts for the decision that stood when it was given.
ALTER TABLE "PackLetGo" ADD CONSTRAINT "PackLetGo_kind" CHECK ("kind" IN ('let-go', 'held-again'));

-- Whoever takes a lent pack back says how it looks. Loans that ended before say nothing of it.
ALTER TABLE "PackLoan" ADD CONSTRAINT "PackLoan_look" CHECK ("look" IS NULL OR ("look" IN ('as-lent', 'fell', 'wet', 'not-as-lent')
  AND "returnedAt" IS NOT NULL));
GRANT UPDATE ("look") ON "PackLoan" TO bench_actor;
