-- CreateTable
CREATE TABLE "DealerChange" (
    "id" UUID NOT NULL,
    "dealerId" UUID NOT NULL,
    "nameBefore" TEXT NOT NULL,
    "nameAfter" TEXT NOT NULL,
    "townBefore" TEXT NOT NULL,
    "townAfter" TEXT NOT NULL,
    "why" TEXT NOT NULL,
    "changedByUserId" TEXT NOT NULL,
    "changedByName" TEXT NOT NULL,
    "changedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "DealerChange_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "DealerChange_dealerId_changedAt_idx" ON "DealerChange"("dealerId", "changedAt");

-- AddForeignKey
ALTER TABLE "DealerChange" ADD CONSTRAINT "DealerChange_dealerId_fkey" FOREIGN KEY ("dealerId") REFERENCES "Dealer"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "DealerChange"
  ADD CONSTRAINT "DealerChange_values" CHECK (length(trim("why")) BETWEEN 3 AND 500 AND length("nameAfter") BETWEEN 2 AND 120
    AND length("townAfter") BETWEEN 2 AND 120),
  ADD CONSTRAINT "DealerChange_changes_something" CHECK ("nameBefore" <> "nameAfter" OR "townBefore" <> "townAfter");
CREATE TRIGGER "DealerChange_written_once" BEFORE UPDATE OR DELETE ON "DealerChange" FOR EACH ROW EXECUTE FUNCTION "refuse_change"();
ALTER TABLE "DealerChange" ENABLE ROW LEVEL SECURITY;
ALTER TABLE "DealerChange" FORCE ROW LEVEL SECURITY;
GRANT SELECT, INSERT ON "DealerChange" TO bench_actor;
CREATE POLICY "read_by_administrator" ON "DealerChange" FOR SELECT USING ((SELECT bench_role()) IN ('administrator', 'system'));
CREATE POLICY "written_by_administrator" ON "DealerChange" FOR INSERT
  WITH CHECK ((SELECT bench_role()) IN ('administrator', 'system'));

-- Name and town alone: code, country and zone are facts of every return that was lodged there.
GRANT UPDATE ("name", "town") ON "Dealer" TO bench_actor;
DROP POLICY "changed_by_the_system" ON "Dealer";
CREATE POLICY "renamed_by_administrator" ON "Dealer" FOR UPDATE
  USING ((SELECT bench_role()) IN ('administrator', 'system')) WITH CHECK ((SELECT bench_role()) IN ('administrator', 'system'));
