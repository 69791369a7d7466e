-- The queue reads its rows in their order from an index of its own for each kind of list, and counts them there without touching
-- the table; the dealer lies in each index because the policy asks for it. The lists of statuses are those of
-- lib/returns/return-status.ts (a test holds them against each other).
CREATE INDEX "Return_undecided_queue" ON "Return" ("riskRank" DESC, "lodgedAt", "id") INCLUDE ("dealerId")
  WHERE "status" IN ('sent-in', 'more-information-needed', 'in-review', 'remote-help', 'return-approved', 'return-expected',
    'at-the-works', 'under-test', 'decision-proposed');
CREATE INDEX "Return_turn_queue" ON "Return" ("turn", "riskRank" DESC, "lodgedAt", "id") INCLUDE ("dealerId")
  WHERE "status" IN ('sent-in', 'more-information-needed', 'in-review', 'remote-help', 'return-approved', 'return-expected',
    'at-the-works', 'under-test', 'decision-proposed', 'decided', 'work-in-progress', 'ready-to-hand-back', 'handed-back')
    AND NOT "settledBefore";
CREATE INDEX "Return_due_queue" ON "Return" ("dueAt", "id") INCLUDE ("dealerId")
  WHERE "status" IN ('sent-in', 'more-information-needed', 'in-review', 'remote-help', 'return-approved', 'return-expected',
    'at-the-works', 'under-test', 'decision-proposed', 'decided', 'work-in-progress', 'ready-to-hand-back', 'handed-back')
    AND NOT "settledBefore";
CREATE INDEX "Return_decided_queue" ON "Return" ("lodgedAt" DESC, "id") INCLUDE ("dealerId")
  WHERE "status" IN ('decided', 'work-in-progress', 'ready-to-hand-back', 'handed-back');
CREATE INDEX "Return_ended_queue" ON "Return" ("lodgedAt" DESC, "id") INCLUDE ("dealerId")
  WHERE "status" IN ('closed', 'solved-remotely', 'withdrawn', 'lapsed', 'merged');

-- The same wall: who asks is read once a statement instead of once a row.
ALTER POLICY own_dealer ON "Return"
  USING ((SELECT bench_sees_all()) OR "dealerId" = (SELECT bench_dealer()))
  WITH CHECK ((SELECT bench_sees_all()) OR "dealerId" = (SELECT bench_dealer()));
