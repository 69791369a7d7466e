import fc from "fast-check";
import { expect, test } from "vitest";
import { type Calibration, calibrationStanding, instrumentUncertainty } from "@/lib/bench-tests/calibration";
import { draftTests } from "@/lib/bench-tests/first-draft";
import { planChanges } from "@/lib/bench-tests/plan-changes";
import { planInForce } from "@/lib/bench-tests/plan-in-force";
import { isLoadTest, type TestDefinition, testListSchema, testPhases } from "@/lib/bench-tests/test-definition.schema";
import { judgeNumber, sayMeasured, sayVerdict } from "@/lib/bench-tests/verdict";
import { calendarDate } from "@/lib/warranty/calendar";

const draft = draftTests({
  groups: 16,
  ratedCapacityAh: 40,
  cellMinV: 2.8,
  cellMaxV: 4.2,
  continuousDischargeA: 120,
  groupResistanceMilliohm: 0.9,
});
const named = (key: string): TestDefinition => {
  const found = draft.find((one) => one.key === key);
  if (found === undefined) throw new RangeError(key);
  return found;
};

test("a value is inside or outside only where its whole interval is (JCGM 106, from memory: verify there)", () => {
  const limits = { lower: 1, upper: 2 };
  expect(judgeNumber({ value: 1.5, expandedUncertainty: 0.1 }, limits)).toBe("inside");
  // An interval that just touches the limit from within still keeps it.
  expect(judgeNumber({ value: 1.75, expandedUncertainty: 0.25 }, limits)).toBe("inside");
  expect(judgeNumber({ value: 1.95, expandedUncertainty: 0.1 }, limits)).toBe("cannot-tell");
  expect(judgeNumber({ value: 2.05, expandedUncertainty: 0.1 }, limits)).toBe("cannot-tell");
  expect(judgeNumber({ value: 2.2, expandedUncertainty: 0.1 }, limits)).toBe("outside");
  expect(judgeNumber({ value: 0.5, expandedUncertainty: 0.1 }, limits)).toBe("outside");
  expect(judgeNumber({ value: 1.5, expandedUncertainty: 9 }, limits)).toBe("cannot-tell");
  expect(judgeNumber({ value: 7, expandedUncertainty: 1 }, { lower: 1, upper: null })).toBe("inside");
  expect(() => judgeNumber({ value: Number.NaN, expandedUncertainty: 1 }, limits)).toThrow(RangeError);
  expect(() => judgeNumber({ value: 1, expandedUncertainty: -1 }, limits)).toThrow(RangeError);
});

test("a larger uncertainty never turns a doubt into a verdict, nor one verdict into the other", () => {
  const size = fc.double({ min: -1e3, max: 1e3, noNaN: true });
  const spread = fc.double({ min: 0, max: 1e3, noNaN: true });
  fc.assert(
    fc.property(size, spread, spread, size, spread, (value, expandedUncertainty, more, lower, width) => {
      const limits = { lower, upper: lower + width };
      const sure = judgeNumber({ value, expandedUncertainty }, limits);
      const less = judgeNumber({ value, expandedUncertainty: expandedUncertainty + more }, limits);
      expect([sure, "cannot-tell"]).toContain(less);
      // Without any uncertainty there is no doubt.
      expect(judgeNumber({ value, expandedUncertainty: 0 }, limits)).not.toBe("cannot-tell");
    }),
  );
});

test("the verdict is said with its numbers and the limit it meets", () => {
  const limits = { lower: null, upper: 0.6 };
  expect(sayVerdict({ value: 0.82, expandedUncertainty: 0.03 }, limits, "mΩ")).toBe(
    "0.82 ± 0.03 mΩ lies above the upper limit of 0.6 mΩ.",
  );
  expect(sayVerdict({ value: 0.61, expandedUncertainty: 0.03 }, limits, "mΩ")).toMatch(
    /straddles the upper limit of 0.6/,
  );
  expect(sayVerdict({ value: 0.5, expandedUncertainty: 0.03 }, limits, "mΩ")).toMatch(
    /keeps its limits \(0.6 mΩ or less\)/,
  );
});

test("an uncertainty is said to two digits and its value to the same place (JCGM 100, 7.2.6, from memory: verify there)", () => {
  const said = (value: number, expandedUncertainty: number) => sayMeasured({ value, expandedUncertainty });
  expect(said(63.004, 0.0515)).toBe("63.004 ± 0.051");
  expect(said(1.6852, 0.03685)).toBe("1.685 ± 0.037");
  expect(said(0.675, 0.01175)).toBe("0.675 ± 0.012");
  expect(said(12.46, 1)).toBe("12.5 ± 1");
  expect(said(481.3, 24.1)).toBe("481 ± 24");
  expect(said(3.3, 0)).toBe("3.3 ± 0");
});

test("a first plan keeps evidence: nothing is loaded before looking, insulation and rest, what destroys comes last", () => {
  const phases = draft.map(({ phase }) => testPhases.indexOf(phase));
  expect(phases).toEqual([...phases].sort((a, b) => a - b));
  expect(draft.at(-1)).toMatchObject({ isDestructive: true, isMandatory: false });
  const firstLoad = draft.findIndex(({ phase }) => isLoadTest(phase));
  expect(draft.slice(0, firstLoad).map(({ key }) => key)).toEqual(
    expect.arrayContaining(["outside", "log-saved", "insulation", "rest-spread"]),
  );
  // Whatever can burn or shock carries its caution.
  for (const { phase, caution, key } of draft) if (phase !== "look") expect(caution, key).not.toBe("");
});

test("a list of tests out of order, or that makes somebody destroy a pack, is no plan", () => {
  const last = named("opened");
  expect(testListSchema.safeParse([named("capacity"), named("outside")]).success).toBe(false);
  expect(testListSchema.safeParse([named("outside"), named("outside")]).success).toBe(false);
  expect(testListSchema.safeParse([{ ...last, isMandatory: true }]).success).toBe(false);
  expect(testListSchema.safeParse([{ ...named("shaken"), isDestructive: true }]).success).toBe(false);
  const { reading } = named("capacity");
  expect(testListSchema.safeParse([{ ...named("capacity"), reading: { ...reading, unit: "V" } }]).success).toBe(false);
  expect(testListSchema.safeParse([{ ...named("capacity"), isRetest: false }]).success).toBe(false);
});

test("a new version says what it changed, the limit with the old one and both sources", () => {
  const spread = named("rest-spread");
  if (spread.reading.kind !== "number") throw new Error("a number");
  const tighter = { ...spread.reading, limits: { ...spread.reading.limits, upper: 25 } };
  const after = draft.flatMap((one) => {
    if (one.key === "rest-spread") return [{ ...one, reading: tighter }];
    return one.key === "leak" ? [] : [one.key === "shaken" ? { ...one, isMandatory: true } : one];
  });
  expect(planChanges(draft, draft)).toEqual([]);
  expect(planChanges(draft, after)).toEqual([
    "“Leak of the closed case” is left out.",
    expect.stringMatching(/^“Highest group less .* limits from 30 mV or less \(Common practice.*to 25 mV or less/),
    "“Shaken, with the log running” is mandatory.",
  ]);
});

test("a pack is tested by its revision's plan, else its model's, as it stood when its tests began", () => {
  const plan = (scope: string, version: number, day: string) => ({ scope, version, settledAt: new Date(day) });
  const codes = { revisionCode: "GW-C", modelCode: "GW" };
  const all = [plan("GW", 1, "2026-01-01"), plan("GW", 2, "2026-06-01"), plan("BR", 9, "2025-01-01")];
  const at = (day: string, plans = all) => planInForce(plans, codes, new Date(day))?.version ?? null;
  expect(at("2026-03-01")).toBe(1);
  expect(at("2026-06-01")).toBe(2);
  expect(at("2025-03-01")).toBe(1);
  expect(at("2026-07-01", [...all, plan("GW-C", 4, "2026-06-15")])).toBe(4);
  expect(at("2026-07-01", [plan("BR", 9, "2025-01-01")])).toBeNull();
});

test("an instrument counts up to and on its last day, and not at all when out of use or never calibrated", () => {
  const day = calendarDate;
  const passed = (on: string, due: string): Calibration => ({
    outcome: "passed",
    calibratedOn: day(on),
    dueOn: day(due),
    uncertaintyPercent: 0.5,
    uncertaintyFloor: 0.02,
  });
  const certificates = [passed("2025-09-01", "2026-08-31"), passed("2026-09-10", "2027-09-09")];
  const on = (text: string, all = certificates) => calibrationStanding("V-02", all, day(text));
  expect(on("2026-08-31")).toEqual({ kind: "usable", daysLeft: 0 });
  expect(on("2026-09-01")).toMatchObject({
    kind: "overdue",
    sentence: expect.stringMatching(/V-02 ended on 31 August 2026/),
  });
  expect(on("2026-09-10")).toMatchObject({ kind: "usable" });
  expect(on("2025-08-31")).toMatchObject({ kind: "never" });
  const broken: Calibration = { ...passed("2026-10-01", "2027-01-01"), outcome: "out-of-use", dueOn: null };
  expect(on("2026-10-02", [...certificates, broken])).toMatchObject({ kind: "out-of-use" });
  // 0.5 % of 50 V and 0.02 V.
  expect(instrumentUncertainty(passed("2026-09-10", "2027-09-09"), -50)).toBeCloseTo(0.27, 12);
});
