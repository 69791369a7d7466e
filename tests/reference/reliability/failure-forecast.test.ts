import { expect, test } from "vitest";
import { valuesOf } from "@/lib/reliability/count-distribution";
import { foretell } from "@/lib/reliability/cover-forecast";
import { spanSums } from "@/lib/reliability/cover-spans";
import { failureLaw } from "@/lib/reliability/failure-law";
import { unitsDocument } from "@/lib/reliability/units-document";
import { countQuantile } from "@/lib/stats/binomial-mixture";
import { numberIn, typedTable } from "@/tests/support/check-table";
import { weibullSet } from "@/tests/support/weibull-sets";
import { expectWithinRelative } from "@/tests/support/within-relative";

test("the bearing cages' next 300 hours bring the published number of failures", () => {
  // AFWAL-TR-83-2079, Weibull Analysis Handbook (1983); Meeker & Escobar (1998), table 12.1, print 5.057 from a fit
  // rounded to four digits (quoted from memory). R 4.2.2: 5.058209. The limits: R 4.2.2, 1,000,000 draws of the shape by its likelihood
  // over ln scale and sigma and of the rate (gamma, given the shape), each with binomial failures of every age class; the shares of
  // draws up to 0, 1, 11 and 12 are 0.0441, 0.1441, 0.9658 and 0.9773. Draws of ln scale and ln sigma from R's
  // large-sample covariance reach from 1 to 66.
  const counts = weibullSet("Bearing cage (Abernethy 1983)");
  const law = failureLaw(counts);
  if ("refused" in law) throw new Error("a law is expected");
  const running = counts
    .filter((c) => c.censored > 0)
    .map((c) => ({ ageDays: c.age, coverLeftDays: null, packs: c.censored }));
  const forecast = foretell({ failures: 6, law, running, hidden: [] }, 300, 0.01);
  if (forecast.kind !== "forecast") throw new Error("a forecast is expected");
  const between = (level: number) =>
    [(1 - level) / 2, (1 + level) / 2].map((share) => countQuantile(forecast.distribution, share));
  expectWithinRelative(forecast.expected, 5.058209, 1e-6, "expected failures");
  expect([forecast.lower, forecast.upper]).toEqual([0, 12]);
  expect(between(0.9)).toEqual([1, 11]);
  expect(between(0.5)).toEqual([2, 6]);
  // What the command prints is this; on the pages the 4 in 1,000 of it that lie at ages no cage has reached are left out.
  const group = {
    group: "cages",
    counts,
    settled: counts,
    byCause: null,
    refusals: new Map(),
    countedTwice: null,
    units: null,
    ...{ rowsGoingOn: 0, unitsLeft: 0 },
    left: new Map(),
    leftSpans: [],
  };
  const printed = unitsDocument([group], { compare: false, weibull: false, forecastHorizon: 300 }).forecast?.[0];
  expect(printed).toMatchObject({ expected: forecast.expected, lower: 0, upper: 12, carriedOn: true });
  const cut = foretell({ failures: 6, law, running, hidden: [] }, 300);
  if (cut.kind !== "forecast") throw new Error("a forecast is expected");
  expect(cut.beyondObserved).toBeCloseTo(0.00415, 4);
  expect(cut.expected).toBeCloseTo(5.058209 * (1 - cut.beyondObserved), 6);
});

test("each age class of the bearing cages has the expected failures of the next 300 hours", () => {
  // R 4.2.2: units times [F(t + 300) - F(t)] / [1 - F(t)] at the survreg fit; Meeker & Escobar (1998), table 12.1.
  const rows = typedTable(
    "statistics/ref/bearing_cage_prediction.csv",
    `
hours,count,exp
50,288,0.219720399661
150,148,0.171419580363
250,124,0.193278650037
350,111,0.217867810253
450,106,0.251183681127
550,99,0.275105092333
650,110,0.350895715436
750,114,0.410714329018
850,119,0.478025725351
950,127,0.56293948591
1050,123,0.596468579486
1150,93,0.489844256714
1250,47,0.267237939279
1350,41,0.250328383257
1450,27,0.176203147876
1550,11,0.076419955252
1650,6,0.044215166362
1850,1,0.008214956016
2050,2,0.01812599198
`,
  );
  const counts = weibullSet("Bearing cage (Abernethy 1983)");
  const law = failureLaw(counts);
  if ("refused" in law) throw new Error("a law is expected");
  expect(rows).toHaveLength(19);
  for (const row of rows) {
    const cell = { ageDays: numberIn(row, "hours"), coverLeftDays: null, packs: numberIn(row, "count") };
    const span = { from: cell.ageDays, to: cell.ageDays + 300, units: cell.packs };
    expectWithinRelative(spanSums([span], valuesOf(law)).sum, numberIn(row, "exp"), 1e-7, `running at ${row.hours} h`);
  }
});
