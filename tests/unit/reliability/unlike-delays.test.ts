import { expect, test } from "vitest";
import { isCalledWorse } from "@/lib/reliability/compare-strata";
import { earlySignals } from "@/lib/reliability/early-signals";
import { eachByItsDealerSentence } from "@/lib/reliability/group-lag-sentences";
import { confirmationSentence, reportingOf } from "@/lib/reliability/reporting-lag";
import { whySentence } from "@/lib/reliability/signal-sentences";
import { hangingGroups } from "@/lib/reliability/what-got-worse";
import { effectSentence, hangingSentence } from "@/lib/reliability/worse-sentences";
import { seededRandom } from "@/tests/support/seeded-random";
import {
  countCalls,
  fleetOf,
  inOneCountry,
  otherPace,
  slowCountry,
  slowestCountry,
  usualDelay,
  withinAWeek,
  youngDealer,
} from "@/tests/support/unlike-fleets";

// Few fleets, so that it is cheap; twelve of each, and more cases, in `npm run -s bench -- unlike-delays`.
const FLEETS = 5;

test("a new revision sold through one slow or one fast country alone has its true ratio, and is called neither worse nor better for it", () => {
  for (const through of ["slow", "fast"] as const) {
    const alike = countCalls(inOneCountry(through, slowestCountry, 1), FLEETS, 5);
    expect(alike).toMatchObject({ worse: 0, better: 0 });
    expect(alike.inside).toBeGreaterThanOrEqual(FLEETS - 1);
  }
});

test("a new revision that is twice as bad is found behind a slow country", () => {
  const double = countCalls(inOneCountry("slow", slowCountry, 2), FLEETS, 5);
  expect(double.better).toBe(0);
  expect(double.worse).toBeGreaterThan(FLEETS / 2);
  expect(double.inside).toBeGreaterThanOrEqual(FLEETS - 1);
});

test("early signals expect of a revision behind a slow country what its own dealer can have told", () => {
  const random = seededRandom(7);
  let [observed, expected, byOne] = [0, 0, 0];
  for (let fleet = 0; fleet < 2; fleet++) {
    const { table, lag, delays } = fleetOf(inOneCountry("slow", slowCountry, 2).sold, random);
    const watchOf = (reporting: ReturnType<typeof reportingOf>) =>
      earlySignals([{ by: "revision", table, reporting }], reporting, () => 1).states.find(
        ({ group }) => group === "R2",
      );
    const own = watchOf(delays.of("revision").reporting);
    observed += own?.observed ?? 0;
    expected += own?.expected ?? 0;
    byOne += watchOf(reportingOf(lag))?.expected ?? 0;
  }
  // Some 80 failures: 11 in 100 of chance, and as much of the delay.
  expect(observed / expected).toBeGreaterThan(1.5);
  expect(observed / expected).toBeLessThan(2.5);
  // By one delay for all it would be hidden.
  expect(observed / byOne).toBeLessThan(1.4);
});

test("a young dealer whose failures are confirmed within days is not called worse for it, and is where it fails twice as often", () => {
  const alike = countCalls(youngDealer(60, usualDelay, withinAWeek, 1), FLEETS, 6);
  expect(alike).toMatchObject({ worse: 0, better: 0 });
  expect(alike.inside).toBeGreaterThanOrEqual(FLEETS - 1);
  expect(countCalls(youngDealer(60, usualDelay, withinAWeek, 2), FLEETS, 6).worse).toBeGreaterThan(FLEETS / 2);
});

test("a dealer so young that its delay can hardly be told is not called worse, and a signal of it says its doubt", () => {
  const young = youngDealer(40, usualDelay, withinAWeek, 1, 700);
  const calls = countCalls(young, FLEETS, 5);
  expect(calls.byTestAlone).toBeGreaterThan(0);
  expect(calls).toMatchObject({ worse: 0, better: 0 });
  const random = seededRandom(5);
  const alarms = Array.from({ length: FLEETS }, () => {
    const { table, delays } = fleetOf(young.sold, random);
    const { reporting } = delays.of("dealer");
    // One watch that has the whole chance, so that there are signals to ask.
    return earlySignals([{ by: "dealer", table, reporting }], reporting, () => 1).states.find(
      ({ group }) => group === "F",
    );
  }).flatMap((state) => (state?.alarm ? [state] : []));
  expect(alarms.length).toBeGreaterThan(0);
  for (const state of alarms) {
    expect(state.holds).toBe(false);
    expect(whySentence(state)).toMatch(/Whether it fails more cannot be told yet: were its/);
  }
});

test("a change of pace at the bench makes the newest revision neither worse nor better, and is told beside the delay", () => {
  for (const [before, lately, since, words] of [
    [45, 12, 60, /That is the delay of the [0-9]+ told in the last .* they are confirmed at another pace/],
    [12, 45, 60, /That is the delay of the [0-9]+ told in the last .* they are confirmed at another pace/],
    [45, 12, 30, /^/],
  ] as const) {
    const pace = otherPace(before, lately, since, 1);
    const calls = countCalls(pace, FLEETS, 3);
    expect(calls).toMatchObject({ worse: 0, better: 0 });
    expect(confirmationSentence(fleetOf(pace.sold, seededRandom(3)).lag)).toMatch(words);
  }
  // Twice as bad at one pace it is called by the test, and stands in some of them in spite of all the doubt about the pace.
  const double = countCalls(otherPace(30, 30, 60, 2), FLEETS, 5);
  expect(double.byTestAlone).toBeGreaterThan(FLEETS / 2);
  expect(double.worse).toBeGreaterThan(0);
  expect(double.better).toBe(0);
});

test("where dealers are confirmed at different speeds, a comparison of revisions says that each pack counts by its dealer's", () => {
  const { delays } = fleetOf(inOneCountry("fast", slowestCountry, 1).sold, seededRandom(8));
  const dealers = delays.groupLags.dealer;
  expect(eachByItsDealerSentence("revision", dealers)).toMatch(
    /each pack counts by the delay of the dealer it was sold/,
  );
  expect(eachByItsDealerSentence("dealer", dealers)).toBe("");
  expect(eachByItsDealerSentence("revision", { ...dealers, p: 0.4 })).toBe("");
  expect(eachByItsDealerSentence("revision", { ...dealers, withoutOwn: ["D9"] })).toMatch(
    / Of D9 too few failures are confirmed for that: of a revision sold mostly there little can be told yet\.$/,
  );
});

test("what the delay alone could have made is said to be that, with when it can be told, and is not counted as a finding", () => {
  const effect = {
    ...{
      group: "R2",
      strata: ["M"],
      observed: 40,
      expected: 24,
      alone: 0,
      comparedAges: null,
      p: 0.004,
      adjustedP: 0.008,
    },
    ...{ ratio: null, holds: false, doubtedP: 0.5 },
  };
  expect(isCalledWorse(effect)).toBe(false);
  expect(isCalledWorse({ ...effect, holds: true, doubtedP: 0.5 })).toBe(true);
  expect(effectSentence("revision", effect, 4)).toMatch(
    /^Whether it fails more or less often than the others cannot be told yet: its failures may be confirmed sooner or later .* By the delay that is allowed for it would fail .* settled in 92 days at the latest/,
  );
  const hanging = hangingGroups([{ by: "revision", comparison: { groups: [effect] } }]);
  expect(hangingSentence(hanging)).toMatch(
    /^Of 1 group it cannot be told yet .* settled in 92 days at the latest.* Revision R2 \(more often by the delay/,
  );
  expect(hangingSentence([])).toBe("");
});
