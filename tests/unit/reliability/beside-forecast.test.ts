import Papa from "papaparse";
import { expect, test } from "vitest";
import { besideFieldNames, besideFields } from "@/lib/reliability/beside-fields";
import {
  besideForecast,
  costAgain,
  totalAgain,
  totalReturns,
  totalsIfFailures,
} from "@/lib/reliability/beside-forecast";
import {
  againSentence,
  ifFailuresTotalSentence,
  returnsSentence,
  sayForetold,
} from "@/lib/reliability/beside-sentences";
import type { RunningCell } from "@/lib/reliability/cover-basis";
import { forecastGroup } from "@/lib/reliability/cover-forecast";
import type { KnownCost } from "@/lib/reliability/failure-cost";
import { returnsRefusalClause } from "@/lib/reliability/forecast-sentences";
import { keptBasisSchema, keptCostSchema } from "@/lib/reliability/kept-forecast.schema";
import type { LifeCell, Line } from "@/lib/reliability/life-cell";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";
import { costKept, rollAgain } from "@/lib/reliability/roll-again";
import { rollCsv } from "@/lib/reliability/roll-csv";
import { rollForward } from "@/lib/reliability/roll-forward";
import { sayAgainst } from "@/lib/reliability/roll-sentences";
import type { BesideRunning } from "@/lib/reliability/waiting-returns";
import { backInUseSentence } from "@/lib/reliability/waiting-sentences";
import { chanceOfFailing } from "@/lib/stats/part-weibull";

const WAITED_DAYS = 40;
const threeHundredEuro: KnownCost = {
  ...{ kind: "cost", currency: "EUR", of: "A", lines: [], afterCover: 0, decided: 40 },
  ...{
    mean: 30_000,
    spread: 0,
    lower: 0,
    upper: 0,
    relativeError: 0,
    amounts: [{ share: 1, mean: 30_000, spread: 0 }],
  },
  beside: { kind: "known", returns: 0, ratio: 0, lower: 0, upper: 0, mean: 0, spread: 0, lines: [] },
};
const SCALE_DAYS = 3000;

function cell(line: Line, status: LifeCell["status"], exitDays: number, slackDays: number, packs = 1): LifeCell {
  const kept = { group: "A", stratum: "M", dispatched: true, entryDays: 0, detail: null } as const;
  return { ...kept, line, status, exitDays, slackDays, packs };
}

/** Ages at which 5,000 packs come back at a constant hazard of 1 in 3,000 a day, seen for 730 days. */
const returnedAges = Array.from({ length: 5000 }, (_, i) =>
  Math.max(1, Math.round(-SCALE_DAYS * Math.log(1 - (i + 0.5) / 5000))),
).filter((age) => age <= 730);
/** Every second return is a confirmed failure, every tenth has waited long for a decision, the others were found sound. */
const kinds = returnedAges.map((_, i) => (i % 10 === 1 ? "undecided" : i % 2 === 0 ? "failed" : "sound"));
const cells = [
  ...returnedAges.map((age) => cell("any-return", "returned", age, 92)),
  cell("any-return", "running", 730, 0, 5000 - returnedAges.length),
  ...returnedAges.flatMap((age, i) => {
    const kind = kinds[i];
    return kind === "failed" || kind === "undecided" ? [cell("confirmed", kind, age, 92)] : [];
  }),
  cell("confirmed", "running", 730, 0, 5000 - kinds.filter((kind) => kind !== "sound").length),
];
const running: RunningCell[] = [{ ageDays: 200, coverLeftDays: null, packs: 2000 }];
const question = {
  group: "A",
  cells,
  running,
  likes: [],
  runningWithoutReturn: [{ ageDays: 200, coverLeftDays: null, packs: 1500 }],
  backInUse: [],
  reporting: knownAtOnce,
  confirmedAfterDays: WAITED_DAYS,
  lodgedAfterDays: 0,
  comeBack: [
    { group: "A", packs: 30, returns: 1 },
    { group: "A", packs: 2, returns: 3 },
    { group: "B", packs: 9, returns: 1 },
  ],
};
const beside = besideForecast(question);

function untilCoverEnds({ reserve }: ReturnType<typeof forecastGroup>) {
  if (reserve.kind !== "reserve") throw new Error("a reserve is expected");
  return reserve;
}

function at(forecast: ReturnType<typeof forecastGroup> | null, months: number) {
  const found = forecast?.forecasts.find((one) => one.months === months);
  if (found?.kind !== "forecast") throw new Error("a forecast is expected");
  return found;
}

test("first returns of any kind are foretold by their own law, for packs that have not been back", () => {
  const chance = chanceOfFailing(1, 200 / SCALE_DAYS, (200 + 6 * 30.4375) / SCALE_DAYS);
  const { expected, lower, upper } = at(beside.returns, 6);
  // The law is known; 1,080 returns leave 3 in 100 of doubt.
  expect(Math.abs(expected / (1500 * chance) - 1)).toBeLessThan(0.05);
  expect(lower).toBeLessThan(1500 * chance);
  expect(upper).toBeGreaterThan(1500 * chance);
  expect(returnsSentence(totalReturns([beside], 6), "in the next 6 months")).toMatch(
    /^Whatever comes of them, [0-9]+ packs are to be expected back for the first time in the next 6 months, between [0-9]+ and/,
  );
});

test("packs put right fail again by the law of their group at their own age, and are told with their count on top", () => {
  const backInUse = [{ ageDays: 400, coverLeftDays: null, packs: 300 }];
  const repaired = besideForecast({ ...question, backInUse });
  // Every second return is a failure: half the hazard of returns, constant. R 4.2.2: 300 * (1 - exp(-182.625 / 6000)) is 8.9937.
  const { expected, lower, upper } = at(repaired.again, 6);
  expect(Math.abs(expected / 8.9937 - 1)).toBeLessThan(0.15);
  expect([lower < expected, upper > expected]).toEqual([true, true]);
  // The plain forecast does not hold them.
  expect(repaired.returns).toEqual(beside.returns);
  const waiting = [
    {
      group: "A",
      undecided: 0,
      backInUse: 300,
      cost: { kind: "unknown", currency: "EUR", of: "A", sentences: [] } as const,
    },
  ];
  const say = (some: typeof repaired, costs: readonly BesideRunning[]) => {
    const failures = totalAgain([some], 6);
    const again = failures === null ? null : { failures, cost: costAgain([some], costs, 6) };
    return backInUseSentence(costs, again, "in the next 6 months");
  };
  expect(say(repaired, waiting)).toMatch(
    /^300 packs put right .* no better and no worse than had they never failed, [0-9.]+ confirmed failures of them are to be expected again in the next 6 months, between [0-9]+ and [0-9]+ \(95 % limits\): they come on top .* What they will cost cannot be told yet\.$/,
  );
  expect(say(beside, waiting)).toContain("cannot be told");
  // At 300.00 EUR for each failure, none dearer than another, money is the number of failures with its own limits.
  const priced = waiting.map((one) => ({ ...one, cost: threeHundredEuro }));
  const cost = costAgain([repaired], priced, 6);
  expect(cost).toMatchObject({ currency: "EUR", unpriced: [], failures: expected });
  expect((cost?.expected ?? 0) / (expected * 30_000)).toBeCloseTo(1, 9);
  expect((cost?.lower ?? 0) / (lower * 30_000)).toBeCloseTo(1, 2);
  expect((cost?.upper ?? 0) / (upper * 30_000)).toBeCloseTo(1, 2);
  expect(say(repaired, priced)).toMatch(
    /they come on top of the numbers above, and so does their cost\. They will cost [0-9,]+ EUR, between [0-9,]+ and [0-9,]+ EUR \(95 % limits\)\.$/,
  );
  // The file has the money of the page, and nothing where the cost is not known.
  const plain = (minor = 0) => (Math.round(minor) / 100).toFixed(2);
  const money = [cost?.expected, cost?.lower, cost?.upper].map(plain);
  expect(besideFields([repaired], "A", 6, priced).slice(11)).toEqual([300, expected, lower, upper, ...money]);
  expect(besideFields([repaired], "A", 6, waiting).slice(11)).toEqual([300, expected, lower, upper, "", "", ""]);
});

test("what fails again of packs put right is kept with its cost, and stands beside the reserve then and now", () => {
  const backInUse = [{ ageDays: 400, coverLeftDays: 200, packs: 300 }];
  const again = besideForecast({ ...question, backInUse }).again;
  if (again === null) throw new Error("packs run again");
  const kept = keptBasisSchema.parse(JSON.parse(JSON.stringify({ ...again.basis, again: again.basis }))).again;
  const costThen = costKept(keptCostSchema.parse(threeHundredEuro), "EUR");
  const rolled = rollAgain([
    { group: "A", opening: kept, closing: again.basis, costThen, costNow: threeHundredEuro, came: 3 },
    { group: "B", opening: null, closing: null, costThen, costNow: threeHundredEuro, came: 0 },
  ]);
  expect(rolled?.revisions.map(({ group }) => group)).toEqual(["A"]);
  const [one] = rolled?.revisions ?? [];
  // Nothing has changed in the meantime, so both ends say what was said then.
  expect(one?.opening).toEqual(one?.closing);
  expect(one?.opening).toMatchObject({ packs: 300, failures: { expected: untilCoverEnds(again).expected } });
  expect((one?.opening?.cost?.expected ?? 0) / (untilCoverEnds(again).expected * 30_000)).toBeCloseTo(1, 9);
  // A forecast kept before it was kept says so, and its revision cannot be in a sum.
  const earlier = rollAgain([
    { group: "A", opening: undefined, closing: again.basis, costThen, costNow: { kind: "unknown" }, came: 3 },
  ]);
  expect(earlier?.revisions[0]).toMatchObject({ opening: null, came: 3, closing: { packs: 300, cost: null } });
  expect(earlier?.total.opening).toBeNull();
  expect(rollAgain([])).toBeNull();
  const whole = rollForward({
    ...{ opening: again.basis, openingMean: null, closingMean: null, closing: again.basis, soldSince: [] },
    ...{ arisen: { confirmed: 0, undecided: 0 }, days: 100, meanLagDays: 10 },
  });
  const limits = { opening: null, closing: null };
  const csv = rollCsv({
    ...{ from: "2026-08-31", to: "2026-11-29", currency: "EUR", countingRules: "c", forecastRules: "f", again: rolled },
    revisions: [{ group: "A", ...whole, costLimits: limits, paid: { amountMinor: 0 } }],
  });
  const [row] = Papa.parse<Record<string, string>>(csv.replace(/^\uFEFF/, ""), { header: true }).data;
  const field = (name: string) => row?.[name];
  expect(field("put right then: failed again since")).toBe("3");
  expect(Number(field("put right then: cost: expected"))).toBeCloseTo((one?.opening?.cost?.expected ?? 0) / 100, 2);
  expect(Number(field("put right now: failures: upper 95 % limit"))).toBe(one?.closing.failures?.upper);
});

test("what comes back again is told beside the first returns, by what came back so far", () => {
  // R 4.2.2: poisson.test(4, 22)$conf.int gives 0.049539 and 0.465527. Of single returns on top these are the wider limits.
  expect(
    againSentence([
      { packs: 18, returns: 1 },
      { packs: 4, returns: 2 },
    ]),
  ).toMatch(
    /^So far 22 packs came back within cover in 26 returns: for 100 first returns 18\.2 more of the same packs \(95 % limits 5\.0 to 46\.6,/,
  );
  // By hand: one of 22 with 20 more, the mean 20/22, variance (20 - 20/22)^2 + 21 (20/22)^2 over 22^2, limits times exp(+-1.959964 se / mean).
  const mean = 20 / 22;
  const se = Math.sqrt((20 - mean) ** 2 + 21 * mean ** 2) / 22;
  const [lower, upper] = [-1, 1].map((side) => (100 * mean * Math.exp((side * 1.959964 * se) / mean)).toFixed(1));
  expect(
    againSentence([
      { packs: 21, returns: 1 },
      { packs: 1, returns: 21 },
    ]),
  ).toContain(`90.9 more of the same packs (95 % limits ${lower} to ${upper},`);
  expect(againSentence([{ packs: 1, returns: 1 }])).toBe(
    "So far 1 pack came back within cover in 1 return: how many more come of the same packs is not told of fewer than 20 packs.",
  );
  expect(againSentence([])).toBe("");
});

test("were the returns that wait for too long failures, the law itself foretells more", () => {
  const plain = forecastGroup(cells, running, knownAtOnce, WAITED_DAYS);
  const waiting = kinds.filter((kind) => kind === "undecided").length;
  expect(beside.longUndecided).toBe(waiting);
  // A fifth more failures in the law, and a fifth more foretold of the same packs.
  const failures = kinds.filter((kind) => kind === "failed").length;
  const ratio = at(beside.ifFailures, 6).expected / at(plain, 6).expected;
  expect(Math.abs(ratio / (1 + waiting / failures) - 1)).toBeLessThan(0.02);
  const named = [{ ...plain, group: "A" }];
  const both = totalsIfFailures(named, [beside], 6);
  expect(both?.totals?.ifFailures.expected).toBeCloseTo(at(beside.ifFailures, 6).expected, 9);
  expect(both?.totals?.asTheyStand.expected).toBeCloseTo(at(plain, 6).expected, 9);
  expect(ifFailuresTotalSentence(both, [beside], WAITED_DAYS)).toMatch(
    /^[0-9]+ returns have been undecided for 40 days or more and are in no law as failures: were all of them, [0-9]+, between [0-9]+ and [0-9]+ would be to come instead of [0-9]+\.$/,
  );
  expect(besideFields([beside], "A", "cover-end", [])).toHaveLength(besideFieldNames.length);
  expect(besideFields([beside], "A", 6, []).slice(3, 6)).toEqual([32, 36, waiting]);
});

test("both totals are of the same revisions, and one told in one case alone is named", () => {
  // Of Y four failures carry no law; with two that wait there would be six.
  const few = [
    ...[100, 200, 300, 400].map((age) => cell("confirmed", "failed", age, 92)),
    ...[150, 350].map((age) => cell("confirmed", "undecided", age, 92)),
    cell("confirmed", "running", 730, 0, 900),
  ];
  const other = besideForecast({ ...question, group: "Y", cells: few });
  const forecasts = [
    { ...forecastGroup(cells, running, knownAtOnce, WAITED_DAYS), group: "A" },
    { ...forecastGroup(few, running, knownAtOnce, WAITED_DAYS), group: "Y" },
  ];
  expect(at(other.ifFailures, 6).expected).toBeGreaterThan(0);
  const both = totalsIfFailures(forecasts, [beside, other], 6);
  expect(both?.leftOut).toEqual(["Y"]);
  expect(both?.totals?.ifFailures).toMatchObject({ groups: 1, expected: at(beside.ifFailures, 6).expected });
  expect(both?.totals?.asTheyStand).toMatchObject({ groups: 1 });
  expect(ifFailuresTotalSentence(both, [beside, other], WAITED_DAYS)).toMatch(
    / instead of [0-9]+\. Neither number holds Y, of which not both can be told, though such returns wait there\.$/,
  );
  const alone = totalsIfFailures(forecasts.slice(1), [other], 6);
  expect(alone?.totals).toBeNull();
  expect(ifFailuresTotalSentence(alone, [other], WAITED_DAYS)).toMatch(
    /were all of them, how many would be to come cannot be told\.$/,
  );
});

test("nothing waits for too long: there is no other case", () => {
  const none = besideForecast({ ...question, confirmedAfterDays: 93 });
  expect(none).toMatchObject({ longUndecided: 0, ifFailures: null });
  expect(totalsIfFailures([], [none], 6)).toBeNull();
});

test("first returns that came are held against what was foretold of them when the forecast was kept", () => {
  const basis = forecastGroup(cells, running, knownAtOnce, WAITED_DAYS).basis;
  const kept = keptBasisSchema.parse(JSON.parse(JSON.stringify({ ...basis, returns: beside.returns.basis })));
  const rolled = (cameBack: number, openingReturns = kept.returns ?? null) =>
    rollForward({
      ...{
        opening: kept,
        openingReturns,
        cameBack,
        openingMean: null,
        closingMean: null,
        closing: basis,
        soldSince: [],
      },
      ...{ arisen: { confirmed: 0, undecided: 0 }, days: 100, meanLagDays: 10 },
    }).returns;
  // 1,500 packs for 90 days at 1 in 3,000 a day: 44.
  expect(rolled(44)?.period?.expected).toBeGreaterThan(42);
  expect(rolled(44)?.period?.expected).toBeLessThan(47);
  expect(rolled(44)?.verdict).toBe("inside");
  expect(rolled(90)?.verdict).toBe("above");
  const few = rolled(10);
  expect(few === null ? "" : sayAgainst(few)).toMatch(
    /^; expected [0-9]+, between [0-9]+ and [0-9]+: fewer than the limits allow$/,
  );
  // Of a forecast kept before first returns were foretold.
  expect(rolled(10, null)).toBeNull();
});

test("where too few packs came back the refusal speaks of returns, not of failures", () => {
  const few = [
    ...[100, 200].map((age) => cell("any-return", "returned", age, 92)),
    cell("any-return", "running", 730, 0, 900),
  ];
  const { returns } = besideForecast({ ...question, cells: few });
  expect(sayForetold(returns, 6, returnsRefusalClause)).toBe(
    "cannot tell yet: too few returns: fewer than 5 carry no law of coming back, and the others of its model lend it none",
  );
});
