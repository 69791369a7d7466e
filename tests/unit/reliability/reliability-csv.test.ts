import Papa from "papaparse";
import { expect, test } from "vitest";
import { delayCsv, delayTaken } from "@/lib/reliability/delay-csv";
import { groupLags } from "@/lib/reliability/group-lags";
import { groupReports } from "@/lib/reliability/group-report";
import { lagCorrectedCurve } from "@/lib/reliability/lag-corrected-curve";
import { reliabilityCsv } from "@/lib/reliability/reliability-csv";
import { knownAtOnce, reportingLag } from "@/lib/reliability/reporting-lag";
import { COUNTING_RULES_VERSION } from "@/lib/reliability/rule-version";
import { tallyLives } from "@/lib/reliability/tally-lives";
import { unknownStarts } from "@/lib/reliability/unknown-start";
import { afterSale, failedAfter, packsLike, unitHistory } from "@/tests/support/pack-dates";

const table = tallyLives([
  ...Array.from({ length: 6 }, (_, i) =>
    unitHistory(`F${i}`, { failure: failedAfter(100 + i), replacedOn: afterSale(110 + i) }),
  ),
  ...packsLike(82),
  ...packsLike(32, { soldOn: null }),
]);
const [report] = groupReports("revision", ["A"], table);
const lagCorrected = lagCorrectedCurve(table.cells, knownAtOnce);
/** Of the 32 packs without a day of sale two came back 50 days after dispatch; all lay with a dealer for 800 days. */
const starts = unknownStarts(
  table.cells,
  [
    { sinceDispatch: 800, failedAfter: 50, packs: 2 },
    { sinceDispatch: 800, failedAfter: null, packs: 30 },
  ],
  [],
);

/** 40 confirmed failures after 1 to 10 days, all told long ago. */
const lag = reportingLag(Array.from({ length: 10 }, (_, i) => ({ lag: i + 1, longest: 500, count: 4 })));
const delay = delayTaken("A", lag, null);

function rowsOf(modelName: string): Record<string, string>[] {
  const csv = reliabilityCsv(
    "2026-11-25",
    "revision",
    report === undefined
      ? []
      : [
          {
            ...report,
            modelNames: [modelName],
            effect: null,
            lagCorrected,
            unknownStarts: starts,
            ifFailures: null,
            delay,
          },
        ],
  );
  return Papa.parse<Record<string, string>>(csv, { header: true }).data;
}

test("the share that came back whatever was found stands beside the share that failed", () => {
  const cameBack = { toldOn: afterSale(80), outcome: "not-confirmed" as const };
  const failed = { failure: failedAfter(100), firstReturn: { toldOn: afterSale(100), outcome: "confirmed" as const } };
  const lives = tallyLives([
    ...Array.from({ length: 6 }, (_, i) => unitHistory(`F${i}`, failed)),
    ...Array.from({ length: 4 }, (_, i) => unitHistory(`N${i}`, { firstReturn: cameBack })),
    ...packsLike(90),
  ]);
  const [both] = groupReports("revision", ["A"], lives);
  if (both === undefined) throw new Error("a group is expected");
  const rest = { modelNames: ["M"], effect: null, lagCorrected: null, unknownStarts: null, ifFailures: null, delay };
  const csv = reliabilityCsv("2026-11-25", "revision", [{ ...both, ...rest }]);
  const [row] = Papa.parse<Record<string, string>>(csv, { header: true }).data;
  expect(Number(row?.["share failed by 12 months"])).toBeCloseTo(0.06, 12);
  // Ten of a hundred, those with nothing found among them.
  expect(Number(row?.["share that came back by 12 months, whatever was found"])).toBeCloseTo(0.1, 12);
});

test("what nobody has decided, or found the fault of, has an estimate of its own among first returns", () => {
  const back = (outcome: "undecided" | "unclassified" | "not-confirmed", age: number) => ({
    firstReturn: { toldOn: afterSale(age), outcome },
  });
  const failed = { failure: failedAfter(100), firstReturn: { toldOn: afterSale(100), outcome: "confirmed" as const } };
  const lives = tallyLives([
    ...Array.from({ length: 6 }, (_, i) => unitHistory(`F${i}`, failed)),
    ...Array.from({ length: 5 }, (_, i) => unitHistory(`U${i}`, back("undecided", 120))),
    ...Array.from({ length: 3 }, (_, i) => unitHistory(`X${i}`, back("unclassified", 130))),
    ...Array.from({ length: 4 }, (_, i) => unitHistory(`N${i}`, back("not-confirmed", 80))),
    ...packsLike(82),
  ]);
  const [report] = groupReports("revision", ["A"], lives);
  const byAYear = report?.allReturns.mayHaveFailed.find(({ months }) => months === 12);
  // Nobody leaves before a year, so of 100 packs 6, 5 and 3 that were or may be failures are 14 in 100; with nothing found 4 more came back.
  expect(byAYear).toMatchObject({ kind: "estimate", failures: 14 });
  if (byAYear?.kind !== "estimate") return;
  expect(byAYear.probability).toBeCloseTo(0.14, 12);
  // Without censoring the variance is that of a binomial share.
  expect(byAYear.standardError).toBeCloseTo(Math.sqrt((0.14 * 0.86) / 100), 6);
  expect(byAYear.lower).toBeLessThan(0.14);
  expect(byAYear.upper).toBeGreaterThan(0.14);
});

test("each row carries the data date, the counts and the share with its limits", () => {
  const [row] = rowsOf("Model M");
  expect(row).toMatchObject({
    "data date": "2026-11-25",
    model: "Model M",
    "counting rules": COUNTING_RULES_VERSION,
    "grouped by": "revision",
    group: "A",
    "packs built": "120",
    "confirmed failures": "6",
    "failures by 12 months": "6",
  });
  expect(Number(row?.["share failed by 12 months"])).toBeCloseTo(6 / 88, 12);
});

test("packs without a day of sale stand beside the share they are left out of, as lives since their dispatch", () => {
  const [row] = rowsOf("Model M");
  expect(row).toMatchObject({ "dispatched packs without a day of sale": "32", "confirmed failures of those": "2" });
  const since = "those without a day of sale in use since dispatch";
  expect(Number(row?.[`share failed by 12 months, ${since}`])).toBeCloseTo(8 / 120, 12);
  expect(Number(row?.[`upper 95 % limit by 12 months, ${since}`])).toBeGreaterThan(8 / 120);
  // No delay from dispatch to sale is known here, so there is no second reading.
  const usual = "those without a day of sale in use after the usual time on the shelf";
  expect(row?.[`share failed by 12 months, ${usual}`]).toBe("");
});

test("with every return known at once the share with late reports allowed for is the share itself", () => {
  const [row] = rowsOf("Model M");
  expect(Number(row?.["share failed by 12 months, late reports allowed for"])).toBeCloseTo(6 / 88, 12);
});

test("each row carries the delay it was corrected by, and the failures that delay rests on", () => {
  const [row] = rowsOf("Model M");
  expect(row).toMatchObject({
    "delay until confirmed that is allowed for": "all together",
    "half confirmed within days": "5",
    "95 of 100 confirmed within days": "10",
    "confirmed failures that delay rests on": "40",
  });
});

test("the delays are a file of their own, that of all first; where none can be told the days are empty", () => {
  const read = (csv: string) => Papa.parse<Record<string, string>>(csv, { header: true, skipEmptyLines: true }).data;
  const [none] = read(delayCsv("2026-11-25", reportingLag([]), null));
  expect(none).toMatchObject({ "data date": "2026-11-25", group: "all together", "half confirmed within days": "" });
  const fast = Array.from({ length: 5 }, (_, i) => ({ lag: i, longest: 500, count: 30 }));
  const slow = Array.from({ length: 5 }, (_, i) => ({ lag: 40 + i, longest: 500, count: 30 }));
  const of = new Map([
    ["D1", fast],
    ["D2", slow],
    ["D3", [{ lag: 3, longest: 500, count: 2 }]],
  ]);
  const all = reportingLag([...of.values()].flat());
  const rows = read(delayCsv("2026-11-25", all, groupLags("dealer", of, all)));
  expect(rows.map(({ group }) => group)).toEqual(["all together", "D1", "D2", "D3"]);
  const taken = rows.map((row) => row["delay until confirmed that is allowed for"]);
  expect(taken).toEqual(["all together", "its own", "its own", "all together"]);
  expect(rows[2]).toMatchObject({
    "half confirmed within days": "42",
    "confirmed failures that delay rests on": "150",
  });
});

test("what cannot be told is an empty field, not a zero", () => {
  const [row] = rowsOf("Model M");
  expect(row?.["share failed by 24 months"]).toBe("");
  expect(row?.["packs at risk at 24 months"]).toBe("0");
});

test.each(["=1+1", "+1", "-1+2", "@A1", "\t=1", "\r=1"])(
  "a text that begins like a formula is made plain: %j",
  (text) => {
    expect(rowsOf(text)[0]?.model?.startsWith("'")).toBe(true);
  },
);
