import { expect, test } from "vitest";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { type LaggedLife, lagWeightedSurvival } from "@/lib/stats/lag-weighted-survival";
import { reverseProductLimit, shareKnownAfter } from "@/lib/stats/reverse-product-limit";
import { countLives, type Life } from "@/tests/support/lives";
import { seededRandom } from "@/tests/support/seeded-random";
import { expectWithinRelative } from "@/tests/support/within-relative";

test("where every failure is known at once it is the Kaplan-Meier curve", () => {
  const lives: Life[] = [
    [0, 4, 1],
    [0, 6, 0],
    [2, 9, 1],
    [0, 9, 1],
    [5, 12, 0],
    [0, 15, 1],
    [0, 15, 0],
  ];
  const lagged = lives.map(([entry, exit, status]) => ({ entry, exit, failed: status === 1, ageToday: exit + 3 }));
  const { steps } = lagWeightedSurvival(lagged, () => 1);
  for (const [i, step] of kaplanMeier(countLives(lives)).steps.entries()) {
    expect(steps[i]?.weightedAtRisk).toBe(step.atRisk);
    expectWithinRelative(steps[i]?.survival ?? -1, step.survival, 1e-14);
    expectWithinRelative(steps[i]?.lower ?? -1, step.lower, 1e-12);
    expectWithinRelative(steps[i]?.upper ?? -1, step.upper, 1e-12);
  }
});

test("a single age gives failures over the units a failure of which would be known", () => {
  // By hand: of 10 units 4 are 30 days past age 5 (9 in 10 failures known), 6 are 10 days past it (half known).
  const lives: LaggedLife[] = [
    { entry: 0, exit: 5, failed: true, ageToday: 35 },
    { entry: 0, exit: 35, failed: false, ageToday: 35, count: 3 },
    { entry: 0, exit: 15, failed: false, ageToday: 15, count: 6 },
  ];
  const { steps } = lagWeightedSurvival(lives, (lag) => (lag >= 30 ? 0.9 : 0.5));
  expectWithinRelative(steps[0]?.weightedAtRisk ?? 0, 4 * 0.9 + 6 * 0.5, 1e-14);
  expectWithinRelative(steps[0]?.survival ?? 0, 1 - 1 / 6.6, 1e-14);
});

test("with delayed reports it gives back the true failed share that the plain curve misses", () => {
  // 15 fleets of 2000 packs put to use evenly over 400 days, constant hazard, lags up to 120 days, data date 400: truth at
  // age 90 is 1 - exp(-90 / 900). The mean of 15 estimates has a
  // standard error of about 0.002.
  const uniform = seededRandom(20);
  const truth = 1 - Math.exp(-90 / 900);
  let [weighted, plain] = [0, 0];
  const fleets = 15;
  for (let fleet = 0; fleet < fleets; fleet++) {
    const packs = Array.from({ length: 2000 }, () => {
      const ageToday = Math.ceil(400 * uniform());
      const failsAt = Math.ceil(-900 * Math.log(1 - uniform()));
      const lag = Math.floor(120 * uniform() ** 2);
      return { ageToday, failsAt, lag, isKnown: failsAt + lag <= ageToday };
    });
    const lives = packs.map(({ ageToday, failsAt, isKnown }) => ({
      entry: 0,
      exit: isKnown ? failsAt : ageToday,
      failed: isKnown,
      ageToday,
    }));
    const lags = packs.filter((p) => p.isKnown).map((p) => ({ lag: p.lag, longest: p.ageToday - p.failsAt }));
    const known = reverseProductLimit(lags);
    const shares = Array.from({ length: 401 }, (_, lag) => shareKnownAfter(known, lag)?.share ?? 0);
    const { steps } = lagWeightedSurvival(lives, (lag) => shares[lag] ?? 0);
    weighted += 1 - (steps.filter(({ age }) => age <= 90).at(-1)?.survival ?? 1);
    const curve = kaplanMeier(countLives(lives.map((l): Life => [0, l.exit, l.failed ? 1 : 0])));
    plain += 1 - (curve.steps.filter(({ age }) => age <= 90).at(-1)?.survival ?? 1);
  }
  expect(Math.abs(weighted / fleets - truth)).toBeLessThan(0.006);
  expect(truth - plain / fleets).toBeGreaterThan(0.008);
});

test("the curve ends where the share known is too small to divide by, and nothing is NaN", () => {
  const young: LaggedLife[] = [
    { entry: 0, exit: 3, failed: true, ageToday: 40 },
    { entry: 0, exit: 40, failed: false, ageToday: 40, count: 9 },
    { entry: 0, exit: 39, failed: true, ageToday: 40 },
  ];
  const curve = lagWeightedSurvival(young, (lag) => (lag > 20 ? 1 : 0.01));
  expect(curve.endsBeforeAge).toBe(39);
  expect(curve.steps).toHaveLength(1);
  expect(lagWeightedSurvival([], () => 1)).toEqual({ steps: [], endsBeforeAge: null });
  expect(() => lagWeightedSurvival([{ entry: 0, exit: 3, failed: true, ageToday: 2 }], () => 1)).toThrow(RangeError);
});
