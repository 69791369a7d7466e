import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { StepsTable } from "@/app/(manager)/reliability/kept/[dataDate]/steps-table";
import { type CoverBasis, coverBasis, type RunningCell } from "@/lib/reliability/cover-basis";
import { forecastGroup } from "@/lib/reliability/cover-forecast";
import { coverReserve } from "@/lib/reliability/cover-reserve";
import { keptBasisSchema } from "@/lib/reliability/kept-forecast.schema";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { priced } from "@/lib/reliability/priced-forecast";
import { knownAtOnce, meanLagDays } from "@/lib/reliability/reporting-lag";
import { rollCsv } from "@/lib/reliability/roll-csv";
import { type ReserveSteps, type RollForwardQuestion, rollForward, verdictOn } from "@/lib/reliability/roll-forward";
import { totalLimits } from "@/lib/reliability/roll-limits";
import { rollSentence, sayAgainst, summedSteps, untoldSentence } from "@/lib/reliability/roll-sentences";

function cell(exitDays: number, status: LifeCell["status"], packs: number): LifeCell {
  const kept = { line: "confirmed", group: "A", stratum: "M", dispatched: true, entryDays: 0, detail: null } as const;
  return { ...kept, exitDays, status, slackDays: 92, packs };
}

const failed = [60, 120, 180, 240, 300, 360, 420, 480, 540, 600].map((age) => cell(age, "failed", 1));
const lives = [...failed, cell(700, "running", 900)];
const basis = (running: RunningCell[], cells = lives): CoverBasis => coverBasis(cells, running, knownAtOnce, 0);

const old: RunningCell = { ageDays: 300, coverLeftDays: 330, packs: 900 };
const older: RunningCell = { ageDays: 400, coverLeftDays: 230, packs: 898 };
const fresh: RunningCell = { ageDays: 50, coverLeftDays: 580, packs: 100 };
const question: RollForwardQuestion = {
  opening: basis([old]),
  openingMean: 50_000,
  closing: basis([older, fresh]),
  closingMean: 55_000,
  soldSince: [fresh],
  arisen: { confirmed: 2, undecided: 0 },
  days: 100,
  meanLagDays: 0,
};

function carriedOn(steps: ReserveSteps): number {
  const { opening, arisen, changeOfNumber, changeOfCost, changeOfTelling, soldSince } = steps;
  return opening - arisen + changeOfNumber + changeOfCost + changeOfTelling + soldSince;
}

test("the steps lead from the opening to the closing exactly, in failures and in money", () => {
  const { failures, cost } = rollForward(question);
  for (const steps of [failures, cost]) {
    if (steps === null) throw new Error("steps are expected");
    expect(steps.changeOfTelling).toBe(0);
    expect(carriedOn(steps)).toBeCloseTo(steps.closing, 6);
  }
  expect(failures?.arisen).toBe(2);
  const { limits } = rollForward(question);
  expect(limits.opening?.lower).toBeLessThan(failures?.opening ?? 0);
  expect(limits.closing?.upper).toBeGreaterThan(failures?.closing ?? 0);
  expect(cost?.arisen).toBe(100_000);
  // What is left of the old packs costs a tenth more.
  expect(cost?.changeOfCost).toBeCloseTo(((failures?.closing ?? 0) - (failures?.soldSince ?? 0)) * 5000, 6);
});

test("nothing changed and nothing came but what was expected: the change of number is what came off the expectation", () => {
  const { period, failures } = rollForward({ ...question, closing: basis([older]), soldSince: [] });
  // Of 900 packs at 300 days, those that fail in 100 days; the rest go on from 400: the law has not changed.
  const expectedLeft = (failures?.opening ?? 0) - (period?.expected ?? 0);
  expect(failures?.closing).toBeCloseTo(expectedLeft, 1);
});

test("sums carry the limits of all revisions together at both ends, then as kept and today as folded, and no sums of limits", () => {
  const unknown = { kind: "unknown", currency: "EUR", of: "A", sentences: ["Nothing is assumed."] } as const;
  const today = ["A", "B", "C"].map((group) =>
    priced({ group, model: "M" }, forecastGroup(lives, [older], knownAtOnce, 0), unknown),
  );
  const line = (revisionId: string | null, lower: number | null, upper: number | null) => {
    return { revisionId, lower, upper, costLower: lower, costUpper: upper };
  };
  const kept = [line("a", 2, 14), line("b", 1, 9), line(null, 6, 19)];
  const { failures, cost } = totalLimits(kept, today, false);
  expect([failures.opening, cost.opening]).toEqual([
    { lower: 6, upper: 19 },
    { lower: 6, upper: 19 },
  ]);
  const own = today.map(({ reserve }) => (reserve.kind === "reserve" ? reserve : { lower: 0, upper: 0 }));
  const sum = (of: "lower" | "upper") => own.reduce((total, one) => total + one[of], 0);
  expect(failures.closing?.lower).toBeGreaterThan(sum("lower"));
  expect(failures.closing?.upper).toBeLessThan(sum("upper"));
  // What was kept before sums had limits has none, and nothing is priced today.
  expect(totalLimits([line("a", 2, 14), line(null, null, null)], today, false).failures.opening).toBeNull();
  expect(totalLimits([line("a", 2, 14)], today, true).cost).toEqual({ opening: null, closing: null });
  const rows = today.map(({ group }) => {
    const { failures: steps, limits, told } = rollForward(question);
    return { group, steps, limits, told: told.failures };
  });
  const table = renderToStaticMarkup(
    StepsTable({ title: "Reserve", currency: null, rows, totalLimits: failures, linked: false }),
  );
  const last = table
    .split("<tr")
    .at(-1)
    ?.replace(/<[^>]*>/g, " ");
  expect(last).toContain("6 to 19");
  expect(last).toContain(`${failures.closing?.lower} to ${failures.closing?.upper}`);
});

test("a period counts shorter by the mean lag, and a lag's mean is what is unknown summed over the days", () => {
  expect(meanLagDays({ shareKnown: (lag) => (lag < 4 ? 0.5 : lag < 10 ? 0.75 : 1), longestLagDays: 10 })).toBe(3.5);
  const whole = rollForward(question).period;
  const late = rollForward({ ...question, meanLagDays: 20 }).period;
  expect(late?.expected).toBeCloseTo(rollForward({ ...question, days: 80 }).period?.expected ?? 0, 9);
  expect(late?.expected).toBeLessThan(whole?.expected ?? 0);
});

test("a verdict is given only where undecided returns could not turn it", () => {
  const limits = { lower: 3, upper: 8 };
  const verdicts = [
    [3, 0],
    [8, 0],
    [9, 0],
    [2, 0],
    [7, 2],
    [1, 1],
    [2, 4],
  ].map(([confirmed = 0, undecided = 0]) => verdictOn({ confirmed, undecided }, limits));
  expect(verdicts).toEqual(["inside", "inside", "above", "below", "open", "below", "open"]);
});

const young = { ...question, opening: basis([old], lives.slice(0, 3)) };

test("what could not be told then is held against nothing", () => {
  const rolled = rollForward(young);
  expect(rolled).toMatchObject({ period: null, verdict: null });
  expect(sayAgainst(rolled)).toBe("; nothing was foretold to hold it against");
  expect(rollForward({ ...question, days: 5000 }).period).toBeNull();
  expect(rollSentence([rolled])).toBe("For no revision was anything foretold that could be held against what came.");
  const never = rollForward({ ...young, closing: basis([older], lives.slice(0, 3)), soldSince: [] });
  expect(never).toMatchObject({ failures: null, cost: null });
  expect(summedSteps([null])).toBeNull();
});

test("openings add up to the reserve kept and closings to that of today, whatever could be told then or can be now", () => {
  const rows = [
    { group: "A", ...rollForward(question) },
    { group: "B", ...rollForward(young) },
    { group: "C", ...rollForward({ ...question, closing: basis([older], lives.slice(0, 3)), soldSince: [] }) },
    { group: "D", ...rollForward({ ...question, opening: null, closing: basis([fresh]) }) },
    { group: "E", ...rollForward({ ...young, closing: basis([older], lives.slice(0, 3)), soldSince: [] }) },
    { group: "F", ...rollForward({ ...question, openingMean: null }) },
    { group: "G", ...rollForward({ ...question, closingMean: null }) },
  ];
  const reserve = (of: CoverBasis) => {
    const told = coverReserve(of);
    return told.kind === "reserve" ? told.expected : 0;
  };
  const failures = summedSteps(rows.map((row) => row.failures));
  const cost = summedSteps(rows.map((row) => row.cost));
  if (failures === null || cost === null) throw new Error("steps are expected");
  expect(carriedOn(failures)).toBeCloseTo(failures.closing, 6);
  expect(carriedOn(cost)).toBeCloseTo(cost.closing, 3);
  const [kept, now, onlyFresh] = [basis([old]), basis([older, fresh]), basis([fresh])].map(reserve);
  // A, C, F and G could be told then; A, B, F and G can be now, and D is new.
  expect(failures.opening).toBeCloseTo(4 * (kept ?? 0), 6);
  expect(failures.closing).toBeCloseTo(4 * (now ?? 0) + (onlyFresh ?? 0), 6);
  expect(cost.opening).toBeCloseTo(3 * (kept ?? 0) * 50_000, 3);
  expect(cost.closing).toBeCloseTo((3 * (now ?? 0) + (onlyFresh ?? 0)) * 55_000, 3);
  const told = rows.map((row) => ({ group: row.group, told: row.told.failures }));
  expect(untoldSentence(told)).toBe(
    "B: could not be told then and can be now, so all of it is a change of what can be told. C: could be told then and cannot be now, so what was left of it is taken out. E: could not be told then and cannot be now, so in no sum.",
  );
});

const noLimits = { opening: null, closing: null };

test("what a forecast rested on is kept and read back whole, and the file has both dates and both rules in every row", () => {
  expect(keptBasisSchema.parse(JSON.parse(JSON.stringify(question.opening)))).toEqual(question.opening);
  const csv = rollCsv({
    from: "2026-08-31",
    to: "2026-11-29",
    currency: "EUR",
    countingRules: "counting-2",
    forecastRules: "forecast-1",
    again: null,
    revisions: [
      { group: "=A", ...rollForward(question), costLimits: noLimits, paid: { amountMinor: 1250 } },
      {
        group: "B",
        ...rollForward({ ...question, opening: basis([]) }),
        costLimits: noLimits,
        paid: { sentence: "No rate." },
      },
    ],
  });
  const [, first, second] = csv.split("\r\n");
  expect(first).toMatch(
    /^2026-08-31,2026-11-29,counting-2,forecast-1,counting-[0-9]+,forecast-[0-9]+,cost-[0-9]+,"'=A",2,0,/,
  );
  expect(first).toMatch(/,12\.50,,,,,,,{17}$/);
  expect(second).toMatch(/,No rate\.,,,,,,{17}$/);
  expect(csv).not.toMatch(/NaN|undefined|Infinity/);
});
