import { expect, test } from "vitest";
import { compareAtOnce, compareStrata, withRatios } from "@/lib/reliability/compare-strata";
import type { LifeCell } from "@/lib/reliability/life-cell";

/** Share of failures known so many days after they were told. */
const shareKnown = (lagDays: number) => Math.min(1, (lagDays + 1) / 30);

/** Twenty-four packs, aged 21, 28, ... days today; the failures known of them all at different ages. */
const cells = Array.from({ length: 24 }, (_, i): LifeCell => {
  const today = 21 + 7 * i;
  const hasFailed = i % 3 === 0 || i % 5 === 1;
  const exitDays = hasFailed ? 5 + 4 * i + (i % 2) : today;
  const kept = { line: "confirmed", stratum: "M", dispatched: true, entryDays: 0, detail: null, packs: 1 } as const;
  const status = hasFailed ? "failed" : "running";
  return { ...kept, group: i % 2 === 0 ? "A" : "B", exitDays, slackDays: today - exitDays, status };
});

test("a comparison that allows for late reports is Cox's with the share known as an offset", () => {
  const table = { cells, excluded: [] };
  const reporting = { shareKnown, longestLagDays: 29 };
  const global = compareAtOnce(table, reporting);
  const { groups } = withRatios(compareStrata(table, reporting), table, reporting);
  const [a] = groups;
  // R 4.2.2, survival 3.5-3, each life cut at the failure ages into rows (start, stop] with w = shareKnown(today - stop):
  // coxph(Surv(start, stop, d) ~ (g == "A") + offset(log(w)), rows): exp(coef), score test, standard error of coef.
  expect(a?.ratio?.ratio).toBeCloseTo(0.865859944154, 9);
  expect(global?.chiSquare).toBeCloseTo(0.0563454494315, 10);
  expect(a?.ratio?.standardErrorLog).toBeCloseTo(0.607293809055, 8);
  expect(groups.reduce((sum, { expected }) => sum + expected, 0)).toBeCloseTo(11, 9);
});
