import { expect, test } from "vitest";
import { compareStrata } from "@/lib/reliability/compare-strata";
import { earlySignals } from "@/lib/reliability/early-signals";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { knownAtOnce, reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { seededRandom } from "@/tests/support/seeded-random";

/** Old packs sold over two years, young ones over the last 90 days; all fail alike, and decisions take three to five weeks. */
function fleetOf(random: () => number) {
  const lags: TruncatedLag[] = [];
  const life = { line: "confirmed", stratum: "M", entryDays: 0, dispatched: true, detail: null, packs: 1 } as const;
  const cells = Array.from({ length: 3000 }, (_, i): LifeCell => {
    const group = i < 2000 ? "old" : "young";
    const age = 1 + Math.floor((group === "old" ? 730 : 90) * random());
    const fails = Math.max(1, Math.ceil(-1500 * Math.log(1 - random())));
    const lag = 21 + Math.floor(14 * random());
    if (fails > age) return { ...life, group, exitDays: age, slackDays: 0, status: "running" };
    const isDecided = fails + lag <= age;
    if (isDecided) lags.push({ lag, longest: age - fails });
    const status = isDecided ? "failed" : "undecided";
    return { ...life, group, exitDays: fails, slackDays: Math.min(92, age - fails), status };
  });
  return { table: { cells, excluded: [] }, confirmation: reportingOf(reportingLag(lags)) };
}

test("young packs look neither good nor bad while their returns wait for a decision", () => {
  const random = seededRandom(5);
  let [observed, expected, expectedAtOnce, bySignal] = [0, 0, 0, 0];
  for (let i = 0; i < 12; i++) {
    const { table, confirmation } = fleetOf(random);
    const youngOf = (reporting: typeof confirmation) =>
      compareStrata(table, reporting).groups.find(({ group }) => group === "young");
    observed += youngOf(confirmation)?.observed ?? 0;
    expected += youngOf(confirmation)?.expected ?? 0;
    expectedAtOnce += youngOf(knownAtOnce)?.expected ?? 0;
    const { states } = earlySignals([{ by: "revision", table }], confirmation);
    bySignal += states.find(({ group }) => group === "young")?.expected ?? 0;
  }
  // About 120 failures of young packs are known; their standard error is 9 in 100.
  expect(observed).toBeGreaterThan(80);
  expect(Math.abs(observed / expected - 1)).toBeLessThan(0.2);
  expect(Math.abs(observed / bySignal - 1)).toBeLessThan(0.2);
  // Taken as decided at once they would look far better than they are.
  expect(observed / expectedAtOnce).toBeLessThan(0.75);
});
