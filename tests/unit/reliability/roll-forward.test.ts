import { expect, test } from "vitest";
import { type CoverBasis, coverBasis, type RunningCell } from "@/lib/reliability/cover-basis";
import { keptBasisSchema } from "@/lib/reliability/kept-forecast.schema";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { knownAtOnce, meanLagDays } from "@/lib/reliability/reporting-lag";
import { rollCsv } from "@/lib/reliability/roll-csv";
import { type RollForwardQuestion, rollForward, verdictOn } from "@/lib/reliability/roll-forward";
import { rollSentence, saySoFar, summedSteps } from "@/lib/reliability/roll-sentences";

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

test("the steps lead from the opening to the closing exactly, in failures and in money", () => {
  const { failures, cost } = rollForward(question);
  for (const steps of [failures, cost]) {
    if (steps === null) throw new Error("steps are expected");
    const { opening, arisen, changeOfNumber, changeOfCost, soldSince, closing } = steps;
    expect(opening - arisen + changeOfNumber + changeOfCost + soldSince).toBeCloseTo(closing, 6);
  }
  expect(failures?.arisen).toBe(2);
  const { limits } = rollForward(question);
  expect(limits?.opening.lower).toBeLessThan(failures?.opening ?? 0);
  expect(limits?.closing.upper).toBeGreaterThan(failures?.closing ?? 0);
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

test("what could not be told then, or cannot now, is not rolled forward", () => {
  const young = rollForward({ ...question, opening: basis([old], lives.slice(0, 3)) });
  expect(young).toMatchObject({ period: null, verdict: null, failures: null, cost: null });
  expect(saySoFar(young)).toBe("2 confirmed; nothing was foretold to hold it against");
  expect(rollForward({ ...question, closingMean: null })).toMatchObject({ cost: null });
  expect(rollForward({ ...question, days: 5000 }).period).toBeNull();
  expect(rollSentence([young])).toBe("For no revision was anything foretold that could be held against what came.");
  expect(summedSteps([null])).toBeNull();
});

test("what a forecast rested on is kept and read back whole, and the file has both dates and both rules in every row", () => {
  expect(keptBasisSchema.parse(JSON.parse(JSON.stringify(question.opening)))).toEqual(question.opening);
  const csv = rollCsv({
    from: "2026-08-31",
    to: "2026-11-29",
    currency: "EUR",
    countingRules: "counting-2",
    forecastRules: "forecast-1",
    revisions: [
      { group: "=A", ...rollForward(question), costLimits: null, paid: { amountMinor: 1250 } },
      {
        group: "B",
        ...rollForward({ ...question, opening: basis([]) }),
        costLimits: null,
        paid: { sentence: "No rate." },
      },
    ],
  });
  const [, first, second] = csv.split("\r\n");
  expect(first).toMatch(
    /^2026-08-31,2026-11-29,counting-2,forecast-1,counting-[0-9]+,forecast-[0-9]+,cost-[0-9]+,"'=A",2,0,/,
  );
  expect(first).toMatch(/,12\.50,,,,,,$/);
  expect(second).toMatch(/,No rate\.,,,,,$/);
  expect(csv).not.toMatch(/NaN|undefined|Infinity/);
});
