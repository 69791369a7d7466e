import { expect, test } from "vitest";
import { CauseTally } from "@/lib/stats/cause-tally";
import { cumulativeIncidence } from "@/lib/stats/cumulative-incidence";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { LifeTally } from "@/lib/stats/life-tally";
import { seededRandom } from "@/tests/support/seeded-random";
import { expectWithinRelative } from "@/tests/support/within-relative";

// Made-up lives with ties; causes 1 and 2, 0 still running.
const exits = [3, 5, 5, 7, 9, 9, 9, 12, 14, 15, 18, 18, 20, 22, 25, 25, 27, 30, 30, 31];
const causes = [1, 0, 2, 1, 1, 2, 0, 1, 0, 2, 2, 1, 0, 1, 1, 0, 2, 0, 1, 0];
const entries = [0, 1, 2, 0, 3, 0, 5, 0, 0, 6, 10, 2, 0, 0, 11, 12, 0, 4, 20, 8];
const causeNames = [null, "a", "b"];

// R 4.2.2, survival 3.5-3, survfit(Surv(time, factor(status)) ~ 1): pstate and its infinitesimal-jackknife std.err.
const fromStart = {
  a: [
    [3, 20, 0.05, 0.048733971724],
    [7, 17, 0.102941176471, 0.0690200297185],
    [9, 16, 0.155882352941, 0.0827884861674],
    [12, 13, 0.212895927602, 0.094790685818],
    [18, 10, 0.275092554504, 0.1056775397396],
    [22, 7, 0.346174413821, 0.1165112774258],
    [25, 6, 0.417256273139, 0.1230089297731],
    [30, 3, 0.506108597285, 0.130630568658],
  ],
  b: [
    [5, 19, 0.05, 0.048733971724],
    [9, 16, 0.102941176471, 0.0690200297185],
    [15, 11, 0.165137803373, 0.0878281275715],
    [18, 10, 0.227334430276, 0.1007499235995],
    [27, 4, 0.316186754422, 0.1207229084251],
  ],
} as const;
// The same with survfit(Surv(entry, time, factor(status)) ~ 1, id = unit). With late entries the jackknife is another
// estimate of the error than the delta method: they agree to a few percent only.
const delayed = {
  a: [
    [3, 11, 0.0909090909091, 0.0866784172041],
    [7, 12, 0.1603535353535, 0.1026702943072],
    [9, 12, 0.2240109427609, 0.1152724408272],
    [12, 11, 0.2818813131313, 0.1185043878515],
    [18, 9, 0.3397516835017, 0.1200828584986],
    [22, 7, 0.3976220538721, 0.1199794651555],
    [25, 6, 0.4554924242424, 0.1235332496562],
    [30, 3, 0.5278303872054, 0.1290791029246],
  ],
  b: [
    [5, 12, 0.0757575757576, 0.0730103345165],
    [9, 12, 0.139414983165, 0.0912827320851],
    [15, 10, 0.1972853535354, 0.1032621533726],
    [18, 9, 0.2551557239057, 0.113510167111],
    [27, 4, 0.3274936868687, 0.1226859113315],
  ],
} as const;

function incidences(hasEntries: boolean) {
  const tally = new CauseTally();
  for (const [i, exit] of exits.entries())
    tally.add(hasEntries ? (entries[i] ?? 0) : 0, exit, causeNames[causes[i] ?? 0] ?? null);
  return cumulativeIncidence(tally.counts());
}

for (const [name, hasEntries, expected, errorTolerance] of [
  ["seen from the start", false, fromStart, 1e-11],
  ["seen late", true, delayed, 0.05],
] as const) {
  test(`for lives ${name}, incidence and standard error per cause agree with survfit`, () => {
    const result = incidences(hasEntries);
    expect(result.map(({ cause }) => cause)).toEqual(["a", "b"]);
    for (const { cause, steps } of result) {
      const rows = cause === "a" ? expected.a : expected.b;
      expect(steps.map(({ age, atRisk }) => [age, atRisk])).toEqual(rows.map(([age, atRisk]) => [age, atRisk]));
      for (const [i, [age, , incidence, standardError]] of rows.entries()) {
        expectWithinRelative(steps[i]?.incidence ?? 0, incidence, 1e-11, `incidence of ${cause} at ${age}`);
        expectWithinRelative(
          steps[i]?.standardError ?? 0,
          standardError,
          errorTolerance,
          `error of ${cause} at ${age}`,
        );
      }
    }
  });
}

test("a single cause gives the Kaplan-Meier curve with its error and limits", () => {
  const uniform = seededRandom(11);
  const byCause = new CauseTally();
  const lives = new LifeTally();
  for (let unit = 0; unit < 300; unit++) {
    const entry = uniform() < 0.3 ? Math.floor(20 * uniform()) : 0;
    const exit = entry + 1 + Math.floor(60 * uniform());
    const failed = uniform() < 0.4;
    byCause.add(entry, exit, failed ? "only" : null);
    lives.add(entry, exit, failed);
  }
  const [only] = cumulativeIncidence(byCause.counts());
  const { steps } = kaplanMeier(lives.counts());
  expect(only?.steps).toHaveLength(steps.length);
  for (const [i, step] of steps.entries()) {
    const incidence = only?.steps[i];
    expectWithinRelative(incidence?.incidence ?? -1, 1 - step.survival, 1e-11, "incidence");
    if (step.survival === 0) continue;
    expectWithinRelative(incidence?.standardError ?? -1, step.standardError, 1e-9, "standard error");
    expectWithinRelative(incidence?.lower ?? -1, 1 - step.upper, 1e-9, "lower");
    expectWithinRelative(incidence?.upper ?? -1, 1 - step.lower, 1e-9, "upper");
  }
});

test("the incidences of all causes and the survival add up to 1", () => {
  const lives = new LifeTally();
  for (const [i, exit] of exits.entries()) lives.add(0, exit, causes[i] !== 0);
  const survived = kaplanMeier(lives.counts()).steps.at(-1)?.survival ?? Number.NaN;
  const failed = incidences(false).map(({ steps }) => steps.at(-1)?.incidence ?? Number.NaN);
  expectWithinRelative(failed.reduce((a, b) => a + b) + survived, 1, 1e-12);
});

test("where all units failed the limits are 0 to 1 and nothing is NaN", () => {
  const tally = new CauseTally();
  tally.add(0, 4, "only");
  const step = cumulativeIncidence(tally.counts())[0]?.steps[0];
  expect(step).toEqual({ age: 4, atRisk: 1, failures: 1, incidence: 1, standardError: 0, lower: 0, upper: 1 });
});

test("no failures give no cause, and a life that cannot be is refused", () => {
  const tally = new CauseTally();
  tally.add(0, 4, null);
  expect(cumulativeIncidence(tally.counts())).toEqual([]);
  expect(() => tally.add(4, 4, "only")).toThrow(RangeError);
});
