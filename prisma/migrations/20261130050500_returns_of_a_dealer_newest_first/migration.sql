-- A dealer's first page shows the newest hundred of what may be ten thousand.
CREATE INDEX "Return_dealerId_lodgedAt_idx" ON "Return"("dealerId", "lodgedAt" DESC);
