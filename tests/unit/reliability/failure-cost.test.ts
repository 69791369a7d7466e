import { expect, test } from "vitest";
import type { CostBook } from "@/lib/reliability/cost-book";
import { foretoldCost, foretoldCostOfAll } from "@/lib/reliability/cost-forecast";
import type { DecidedReturns } from "@/lib/reliability/cost-lines";
import { besideSentence } from "@/lib/reliability/cost-sentences";
import { coverBasis } from "@/lib/reliability/cover-basis";
import { coverReserve } from "@/lib/reliability/cover-reserve";
import { failureCost, type KnownCost } from "@/lib/reliability/failure-cost";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { DAYS_PER_MONTH } from "@/lib/reliability/months-in-service";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";
import { assumptionFor, type CostAssumption } from "@/lib/settlement/cost-assumption";
import { costAssumptionSchema } from "@/lib/settlement/cost-assumption.schema";
import { convert } from "@/lib/settlement/exchange";
import { sayRoundMoney } from "@/lib/settlement/money";
import { poissonDensity } from "@/lib/stats/poisson-density";
import { calendarDate } from "@/lib/warranty/calendar";
import { expectWithinRelative } from "@/tests/support/within-relative";

const on = calendarDate("2026-11-29");

function assumed(over: Partial<CostAssumption>): CostAssumption {
  return {
    id: JSON.stringify(over),
    part: "own-work",
    remedy: "repair",
    model: null,
    country: null,
    currency: "EUR",
    meanMinor: 20_000,
    spreadMinor: 5000,
    errorMinor: 2000,
    cases: 0,
    validFrom: calendarDate("2026-01-01"),
    ...over,
  };
}

const paid = (remedy: "repair" | "replace") =>
  assumed({ part: "dealer-payments", remedy, meanMinor: 5000, spreadMinor: 0, errorMinor: 0 });
const book = (over: Partial<CostBook> = {}): CostBook => ({
  reportingCurrency: "EUR",
  on,
  assumptions: [
    assumed({}),
    paid("repair"),
    assumed({ remedy: "replace", meanMinor: 80_000, spreadMinor: 0, errorMinor: 0 }),
    paid("replace"),
  ],
  rates: [],
  settled: [],
  ...over,
});
const decided = [
  { remedy: "repair", country: "DE", returns: 6 },
  { remedy: "repair", country: "AU", returns: 2 },
  { remedy: "replace", country: "DE", returns: 2 },
] as const;

function known(
  of: CostBook,
  failures: readonly DecidedReturns[] = decided,
  others: readonly DecidedReturns[] = [],
): KnownCost {
  const cost = failureCost("GW", { of: "GW-A", failures, others, afterCover: 0 }, of);
  if (cost.kind === "unknown") throw new Error(cost.sentences.join(" "));
  return cost;
}

const unpriced = (failures: readonly DecidedReturns[], of: CostBook) =>
  failureCost("GW", { of: "GW-A", failures, others: [], afterCover: 0 }, of);

test("the mean follows the remedies, the spread holds both sources, and one assumption errs once", () => {
  // 0.8 of 250 and 0.2 of 850; between: 0.8 * 120^2 + 0.2 * 480^2 = 57,600; within: 0.8 * 50^2.
  const { mean, spread, relativeError, amounts } = known(book());
  expect(mean).toBeCloseTo(37_000, 6);
  expect(spread).toBeCloseTo(Math.sqrt(0.8 * 5000 ** 2 + 0.8 * 12_000 ** 2 + 0.2 * 48_000 ** 2), 6);
  // The repair's error of 20 serves 0.8 of the failures in two countries; the shares rest on 10 decided failures.
  expect(relativeError * mean).toBeCloseTo(
    Math.sqrt((0.8 * 2000) ** 2 + (0.8 * 12_000 ** 2 + 0.2 * 48_000 ** 2) / 10),
    6,
  );
  expect(amounts.map(({ share }) => share)).toEqual([0.8, 0.2]);
});

test("ten settled returns of a remedy and country outrank what is assumed; nine do not, and our own work never comes from them", () => {
  const settled = Array.from({ length: 10 }, (_, i) => ({
    remedy: "repair" as const,
    country: "DE",
    confirmed: true,
    currency: "EUR",
    amountMinor: i < 5 ? 6000 : 8000,
  }));
  const [line] = known(book({ settled })).lines;
  expect(line?.parts["dealer-payments"]).toMatchObject({
    mean: 7000,
    cases: 10,
    sourceWords: "from 10 settled returns",
  });
  expect(line?.parts["dealer-payments"].spread).toBeCloseTo(Math.sqrt(10_000_000 / 9), 9);
  expect(line?.parts["own-work"]).toMatchObject({
    mean: 20_000,
    sourceWords: "assumed from 1 January 2026, estimated",
  });
  expect(known(book({ settled: settled.slice(1) })).lines[0]?.parts["dealer-payments"].mean).toBe(5000);
});

test("what is missing is said, and then there is no cost at all", () => {
  expect(unpriced([{ remedy: "repair", country: "DE", returns: 4 }], book())).toMatchObject({
    sentences: ["Fewer than 5 failures of GW-A within cover are decided."],
  });
  expect(unpriced(decided, book({ assumptions: [assumed({}), paid("repair")] }))).toMatchObject({
    kind: "unknown",
    sentences: [
      "Our own work, parts, packs and refunds for “Replace it with another pack”: no amount is approved for GW in Germany.",
      "Labour and freight paid to the dealer for “Replace it with another pack”: no amount is approved for GW in Germany.",
    ],
  });
  const inYen = [...book().assumptions, assumed({ country: "AU", currency: "JPY" })];
  expect(unpriced(decided, book({ assumptions: inYen }))).toMatchObject({
    sentences: ["No rate from JPY into EUR is set for 29 November 2026. Ask finance to set one."],
  });
  expect(foretoldCost({ expected: 4, distribution: Float64Array.of(0, 1) }, unpriced([], book()))).toBeNull();
});

/** Beside the ten failures: five returns handed back unchanged at 60 in all, none with a spread. */
const handedBack = [{ remedy: "return-as-is", country: "DE", returns: 5 }] as const;
const withHandedBack = () => {
  const amount = { remedy: "return-as-is", spreadMinor: 0, errorMinor: 0 } as const;
  const costs = [
    assumed({ ...amount, meanMinor: 4000 }),
    assumed({ ...amount, part: "dealer-payments", meanMinor: 2000 }),
  ];
  return book({ assumptions: [...book().assumptions, ...costs] });
};

test("returns without a confirmed failure are in the cost of a failure as often as they came beside the decided ones", () => {
  const alone = known(book());
  const { mean, spread, relativeError, beside, amounts } = known(withHandedBack(), decided, handedBack);
  // Half a return beside each failure; a geometric number with that mean has the variance 0.5 * 1.5.
  expect(mean).toBeCloseTo(alone.mean + 0.5 * 6000, 6);
  expect(spread).toBeCloseTo(Math.sqrt(alone.spread ** 2 + 0.75 * 6000 ** 2), 6);
  expect((relativeError * mean) ** 2).toBeCloseTo(
    (alone.relativeError * alone.mean) ** 2 + 5 * (6000 / 10) ** 2 + (0.5 * 6000) ** 2 / 10,
    3,
  );
  expect(amounts.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
  // Clopper-Pearson for 5 of 15: 0.118241 to 0.616202 (R 4.2.2, binom.test(5, 15)), as a number beside each failure.
  expect(beside).toMatchObject({ kind: "known", returns: 5, ratio: 0.5, mean: 6000 });
  expectWithinRelative(beside.lower, 0.1182411 / (1 - 0.1182411), 1e-6, "lower limit of the number beside");
  expectWithinRelative(beside.upper, 0.6161963 / (1 - 0.6161963), 1e-6, "upper limit of the number beside");
});

test("where what comes beside has no cost, the failures keep theirs and what is left out is said", () => {
  const cost = known(book(), decided, handedBack);
  expect(cost.mean).toBe(known(book()).mean);
  expect(cost.beside).toMatchObject({ kind: "unknown", ratio: 0.5 });
  expect(besideSentence(cost)).toMatch(
    /^For 100 confirmed failures 50 returns come .* Their cost is not in it\. Our own work/,
  );
});

test("a refund is a remedy with its share, its limits and its cost; settled returns without a failure price no failure", () => {
  const refunds = [...decided, { remedy: "refund", country: "DE", returns: 1 }] as const;
  const amount = { remedy: "refund", spreadMinor: 0, errorMinor: 0 } as const;
  const costs = [
    assumed({ ...amount, meanMinor: 90_000 }),
    assumed({ ...amount, part: "dealer-payments", meanMinor: 1000 }),
  ];
  const settled = Array.from({ length: 10 }, () => {
    return { remedy: "repair" as const, country: "DE", confirmed: false, currency: "EUR", amountMinor: 1 };
  });
  const { lines } = known(book({ assumptions: [...book().assumptions, ...costs], settled }), refunds);
  const refund = lines.find(({ remedy }) => remedy === "refund");
  // R 4.2.2, binom.test(1, 11): 0.0022999 to 0.4127799.
  expect(refund).toMatchObject({ returns: 1, mean: 91_000 });
  expectWithinRelative(refund?.share.upper ?? 0, 0.4127799, 1e-6, "upper limit of the share of refunds");
  expect(lines[0]?.parts["dealer-payments"].mean).toBe(5000);
});

test("a currency is converted at the latest rate that has begun, its smallest unit minded", () => {
  const rate = { currency: "JPY", into: "EUR", rate: 0.006, validFrom: calendarDate("2026-01-01") };
  const later = { ...rate, rate: 0.9, validFrom: calendarDate("2026-12-01") };
  expect(convert(10_000, "JPY", "EUR", on, [later, rate])).toMatchObject({ amountMinor: 6000, rate });
  expect(convert(7, "EUR", "EUR", on, [])).toMatchObject({ amountMinor: 7 });
  expect(convert(7, "EUR", "JPY", on, [rate]).kind).toBe("no-rate");
  expect(sayRoundMoney(123_456_78, "EUR")).toBe("123,000 EUR");
});

test("the nearest assumption is taken: model and country, then model, then country, then the latest that has begun", () => {
  const all = assumed({ id: "all" });
  const newer = assumed({ id: "newer", validFrom: calendarDate("2026-06-01") });
  const later = assumed({ id: "later", validFrom: calendarDate("2027-01-01") });
  const country = assumed({ id: "country", country: "DE" });
  const model = assumed({ id: "model", model: "GW" });
  const both = assumed({ id: "both", model: "GW", country: "DE" });
  const found = (...some: CostAssumption[]) =>
    assumptionFor(some, { part: "own-work", remedy: "repair", model: "GW", country: "DE" }, on)?.id;
  expect([
    found(all, newer, later),
    found(country, newer),
    found(country, model),
    found(model, both, country),
    found(later),
    found(assumed({ id: "other", model: "BR" })),
  ]).toEqual(["newer", "country", "model", "both", undefined, undefined]);
});

test("limits of the cost contain chance, spread and the common error; the total adds what is expected", () => {
  const distribution = Float64Array.from({ length: 80 }, (_, n) => poissonDensity(n, 20));
  const count = { expected: 20, distribution };
  const cost = known(book());
  const one = foretoldCost(count, cost);
  const sure = foretoldCost(count, { ...cost, relativeError: 0 });
  const both = foretoldCostOfAll([
    { count, cost },
    { count, cost },
  ]);
  if (one === null || sure === null || both === null) throw new Error("costs are expected");
  expect([one.expected, both.expected]).toEqual([20 * cost.mean, 40 * cost.mean]);
  // Normal approximation of the compound Poisson sum, near enough at 20: mean m n, variance n (m^2 + s^2).
  const deviation = Math.sqrt(20 * (cost.mean ** 2 + cost.spread ** 2));
  expectWithinRelative(sure.upper - sure.lower, 2 * 1.96 * deviation, 0.03, "width without the common error");
  expect(one.upper - one.lower).toBeGreaterThan(sure.upper - sure.lower);
  expect(both.upper - both.lower).toBeGreaterThan(Math.SQRT2 * (one.upper - one.lower));
  expect(both.upper).toBeLessThan(2 * one.upper);
});

function cell(exitDays: number, status: LifeCell["status"], packs: number): LifeCell {
  const kept = { line: "confirmed", group: "A", stratum: "M", dispatched: true, entryDays: 0, detail: null } as const;
  return { ...kept, exitDays, status, slackDays: 92, packs };
}

test("the reserve follows each pack to its own end of cover and no further than packs have been watched", () => {
  const failed = [60, 120, 180, 240, 300, 360, 400].map((age) => cell(age, "failed", 1));
  const lives = [...failed, cell(400, "running", 900)];
  const reserveOf = (ageDays: number, coverLeftDays: number | null) => {
    const found = coverReserve(coverBasis(lives, [{ ageDays, coverLeftDays, packs: 100 }], knownAtOnce, 0));
    if (found.kind === "refused") throw new Error(found.reason);
    return found;
  };
  const whole = reserveOf(100, 630);
  expect(whole.expected).toBeCloseTo(reserveOf(100, 300).expected, 9);
  expect(whole.expected).toBeGreaterThan(reserveOf(100, 200).expected);
  expect(whole.beyond.packs).toBe(100);
  expect(whole.beyond.packMonths).toBeCloseTo((330 * 100) / DAYS_PER_MONTH, 9);
  expect(reserveOf(100, 300).beyond).toEqual({ packs: 0, packMonths: 0 });
  expect(reserveOf(500, 200)).toMatchObject({ expected: 0, upper: 0, beyond: { packs: 100 } });
  expect(reserveOf(100, null)).toMatchObject({ expected: 0, packsWithoutEnd: 100 });
  expect(coverReserve(coverBasis([], [{ ageDays: 1, coverLeftDays: 1, packs: 1 }], knownAtOnce, 0))).toMatchObject({
    reason: "too-few-failures",
  });
});

test("a proposed cost without cases must say how far its mean may be off, and amounts take a comma", () => {
  const typed = {
    part: "own-work",
    remedy: "repair",
    currency: "eur",
    mean: "200,50",
    spread: "50",
    cases: "0",
    error: "",
    validFrom: "2026-12-01",
    why: "Bench time and parts of a usual repair.",
  };
  const refused = costAssumptionSchema.safeParse(typed);
  expect(refused.error?.issues.map(({ path }) => path[0])).toEqual(["error"]);
  expect(costAssumptionSchema.parse({ ...typed, cases: "12" })).toMatchObject({
    mean: 200.5,
    currency: "EUR",
    error: null,
  });
  expect(costAssumptionSchema.parse({ ...typed, error: "20" })).toMatchObject({ error: 20, country: "", model: "" });
});
