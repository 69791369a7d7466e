import { earlySignals } from "@/lib/reliability/early-signals";
import { groupReports } from "@/lib/reliability/group-report";
import { knownAtOnce, reportingLag } from "@/lib/reliability/reporting-lag";
import { tallyLives } from "@/lib/reliability/tally-lives";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { knownTruthFleet } from "@/tests/support/known-truth-fleet";

/**
 * The two revisions that look worst by returns over dispatched packs, and by the product's own way: failures against what
 * was to be expected at equal ages, the reporting lag estimated and allowed for.
 */
export function worstTwo(random: () => number, packsPerRevision: number) {
  const lags: TruncatedLag[] = [];
  const table = tallyLives(knownTruthFleet(random, packsPerRevision, lags));
  const { states } = earlySignals([{ by: "revision", table }], reportingLag(lags)?.reporting ?? knownAtOnce);
  const reports = groupReports(
    "revision",
    states.map(({ group }) => group),
    table,
  );
  const byRatio = reports.toSorted((a, b) => (b.naive.ratio ?? 0) - (a.naive.ratio ?? 0));
  const byEvidence = states.toSorted((a, b) => b.evidence - a.evidence);
  return {
    naive: byRatio.slice(0, 2).map(({ group }) => group),
    equalAge: byEvidence.slice(0, 2).map(({ group }) => group),
  };
}
