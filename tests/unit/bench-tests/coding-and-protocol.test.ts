import { expect, test } from "vitest";
import {
  type CauseCode,
  type FoundCode,
  faultCodingSchema,
  faultOfCoding,
  foundWords,
  type PartCode,
  partWords,
} from "@/lib/bench-tests/fault-coding.schema";
import { draftTests } from "@/lib/bench-tests/first-draft";
import { judgeEntry, type KnownInstrument } from "@/lib/bench-tests/judge-entry";
import { type NoFaultEntry, noFaultStanding, noFaultSteps, whyNoStep } from "@/lib/bench-tests/no-fault-protocol";
import { noFaultTriggers } from "@/lib/bench-tests/no-fault-triggers";
import { resultEntrySchema } from "@/lib/bench-tests/result-entry.schema";
import { readingsBeside } from "@/lib/bench-tests/shown-beside";
import {
  comebackOf,
  type FittedLot,
  type LaterReturn,
  lotsInPackOn,
  type PastReturn,
  rankSimilar,
  type Signature,
  whatSolved,
} from "@/lib/bench-tests/similar-returns";
import { testRound } from "@/lib/bench-tests/test-rounds";
import { faults } from "@/lib/diagnosis/finding";
import { countsAsFailure } from "@/lib/returns/counts-as-failure";
import { calendarDate } from "@/lib/warranty/calendar";

const keysOf = <Code extends string>(words: Readonly<Record<Code, string>>) => Object.keys(words) as Code[];

test("every one of the sixteen fault classes can be coded, and nothing else comes out", () => {
  const coded = keysOf<FoundCode>(foundWords).flatMap((found) =>
    keysOf<PartCode>(partWords).map((part) => faultOfCoding({ found, part, cause: "other-equipment" })),
  );
  expect(new Set(coded)).toEqual(new Set([...faults, "unknown"]));
});

test("what is not known is not made a class of", () => {
  for (const found of ["low-capacity", "high-resistance", "loses-charge", "unknown"] as const) {
    expect(faultOfCoding({ found, part: "unknown", cause: "unknown" }), found).toBe("unknown");
  }
  expect(faultOfCoding({ found: "nothing-found", part: "charger", cause: "unknown" })).toBe("outside-cause");
  expect(faultOfCoding({ found: "nothing-found", part: "unknown", cause: "unknown" })).toBe("no-fault-found");
});

test("firmware of the house's own doing is a fault of the pack, settings of others are not, and unknown causes stay unknown", () => {
  const coded = (cause: CauseCode) => faultOfCoding({ found: "does-not-switch", part: "settings", cause });
  for (const own of ["design", "part-supplier", "our-work"] as const) {
    expect(coded(own), own).toBe("measurement-fault");
    expect(countsAsFailure(coded(own)), own).toBe(true);
  }
  for (const outside of ["use-outside-instructions", "other-equipment"] as const)
    expect(coded(outside), outside).toBe("outside-cause");
  expect(coded("unknown")).toBe("unknown");
});

test("a coding may be unknown on every level, and may not contradict itself", () => {
  const all = { customerSaw: "unknown", found: "unknown", part: "unknown", cause: "unknown", howSure: "open" };
  expect(faultCodingSchema.safeParse(all).success).toBe(true);
  const problem = (over: Readonly<Record<string, string>>) =>
    faultCodingSchema.safeParse({ ...all, ...over }).error?.issues.map(({ path }) => path[0]);
  expect(problem({ found: "nothing-found", part: "cell" })).toEqual(["part"]);
  expect(problem({ found: "hot-place", cause: "no-fault" })).toEqual(["cause"]);
  expect(problem({ howSure: "shown" })).toEqual(["howSure"]);
  expect(problem({ found: "" })).toEqual(["found"]);
  expect(problem({ groups: "0" })).toEqual(["groups"]);
  expect(faultCodingSchema.parse({ ...all, groups: " 8, 7;7 " }).groups).toEqual([7, 8]);
});

const entry = (over: Partial<NoFaultEntry>): NoFaultEntry => ({
  kind: "step",
  step: null,
  outcome: null,
  byUserId: "a",
  ...over,
});
const started = entry({ kind: "started" });
const done = noFaultSteps.map((step) => entry({ step, outcome: "not-shown" }));

test("the protocol is done when every step was made, not when one could not be, and over when the complaint showed, whatever was waived", () => {
  expect(noFaultStanding([])).toEqual({ kind: "not-started" });
  expect(noFaultStanding([started])).toEqual({ kind: "open", missing: [...noFaultSteps] });
  expect(noFaultStanding([started, ...done])).toEqual({ kind: "done" });
  const impossible = entry({ step: "warm-and-cold", outcome: "not-possible" });
  expect(noFaultStanding([started, ...done.filter(({ step }) => step !== "warm-and-cold"), impossible])).toEqual({
    kind: "open",
    missing: ["warm-and-cold"],
  });
  const showed = entry({ step: "shaken", outcome: "shown" });
  const waived = entry({ kind: "waived" });
  expect(noFaultStanding([started, ...done, showed, waived])).toEqual({ kind: "showed", steps: ["shaken"] });
  // What showed once has shown: whoever saw it cannot write it over, somebody else may correct it.
  const over = entry({ step: "shaken", outcome: "not-shown" });
  expect(noFaultStanding([showed, over])).toEqual({ kind: "showed", steps: ["shaken"] });
  expect(noFaultStanding([showed, { ...over, byUserId: "b" }]).kind).toBe("open");
  // Who could not do a step saw nothing that takes back what another saw, and leaving the protocol out does not either.
  const notPossible = { ...over, outcome: "not-possible", byUserId: "b" } as const;
  expect(noFaultStanding([showed, notPossible])).toEqual({ kind: "showed", steps: ["shaken"] });
  expect(noFaultStanding([showed, notPossible, waived])).toEqual({ kind: "showed", steps: ["shaken"] });
  expect(noFaultStanding([showed, notPossible, { ...over, byUserId: "c" }]).kind).toBe("open");
  expect(noFaultStanding([started, ...noFaultSteps.map((step) => entry({ step, outcome: "not-possible" }))]).kind).toBe(
    "open",
  );
  expect(noFaultStanding([waived])).toEqual({ kind: "waived" });
});

test("the second technician is nobody who tested this pack or made another step", () => {
  const by = (userId: string, testerIds: readonly string[] = []) =>
    whyNoStep([started, entry({ step: "shaken", outcome: "not-shown", byUserId: "b" })], "second-technician", {
      userId,
      testerIds,
    });
  expect(by("b")).toBe("not-second");
  expect(by("c", ["c"])).toBe("not-second");
  expect(by("c", ["b"])).toBeNull();
  const second = entry({ step: "second-technician", outcome: "not-shown", byUserId: "c" });
  expect(whyNoStep([started, second], "shaken", { userId: "c", testerIds: [] })).toBe("was-second");
  expect(whyNoStep([started, second], "shaken", { userId: "b", testerIds: [] })).toBeNull();
  expect(whyNoStep([started, second], "second-technician", { userId: "c", testerIds: [] })).toBeNull();
  expect(whyNoStep([], "shaken", { userId: "b", testerIds: [] })).toBe("not-started");
});

test("the protocol is asked for by result, repetition, share and count, each with its numbers", () => {
  const nothing = {
    standardTestsFoundNothing: false,
    earlierOfThisPack: 0,
    ofRevision: { noFault: 0, decided: 0 },
    sameComplaint: 0,
  };
  const kinds = (over: Partial<typeof nothing>) => noFaultTriggers({ ...nothing, ...over }).map(({ kind }) => kind);
  expect(kinds({})).toEqual([]);
  expect(kinds({ standardTestsFoundNothing: true, earlierOfThisPack: 1 })).toEqual(["nothing-found", "came-back"]);
  // A share of few says nothing: 3 of 9 is too few, 2 of 11 too little.
  expect(kinds({ ofRevision: { noFault: 3, decided: 9 } })).toEqual([]);
  expect(kinds({ ofRevision: { noFault: 2, decided: 11 } })).toEqual([]);
  expect(kinds({ sameComplaint: 3 })).toEqual(["count"]);
  // Exact limits of 3 of 12: 0.0549 to 0.5719 (Clopper & Pearson 1934; R binom.test, from memory: verify there).
  expect(noFaultTriggers({ ...nothing, ofRevision: { noFault: 3, decided: 12 } })).toEqual([
    { kind: "share", sentence: expect.stringMatching(/3 of 12 .* \(25 %, 95 % limits 5 to 57 %\)/) },
  ]);
});

const current: Signature = {
  faults: [
    { fault: "weak-cell", confidence: 0.9 },
    { fault: "imbalance", confidence: 0.2 },
  ],
  revisionCode: "GW-C",
  lots: [
    { kind: "joining", code: "J-7" },
    { kind: "cell", code: "C-3" },
  ],
  symptom: "short-range",
};
const past = (reference: string, over: Partial<PastReturn>): PastReturn => ({
  faults: [],
  revisionCode: "GW-A",
  lots: [],
  symptom: "something-else",
  reference,
  decidedAt: new Date("2026-01-01"),
  remedy: "replace",
  confirmedFault: "unknown",
  reason: "",
  work: [],
  carriedOutAt: new Date("2026-01-11"),
  comeback: "none",
  ...over,
});

test("what a pack does outweighs how it was made, and the same revision alone is no likeness", () => {
  const ranked = rankSimilar(current, [
    past("everything of its making", { lots: current.lots, revisionCode: "GW-C", symptom: "short-range" }),
    past("revision and words", { revisionCode: "GW-C", symptom: "short-range" }),
    past("found weak", { confirmedFault: "weak-cell", work: ["Cell group exchanged"] }),
    past("found weak before", {
      confirmedFault: "weak-cell",
      decidedAt: new Date("2025-12-01"),
      carriedOutAt: new Date("2025-12-12"),
      work: ["Cell group exchanged", "Potted again"],
    }),
    past("might be out of balance", { faults: [{ fault: "imbalance", confidence: 0.9 }] }),
    past("found weak lately", {
      confirmedFault: "weak-cell",
      decidedAt: new Date("2026-02-01"),
      carriedOutAt: new Date("2026-02-02"),
      comeback: "confirmed",
      remedy: "repair",
    }),
  ]);
  expect(ranked.map(({ past: { reference } }) => reference)).toEqual([
    "found weak lately",
    "found weak",
    "found weak before",
    "everything of its making",
  ]);
  expect(ranked[3]?.because).toEqual([
    "Same joining job: J-7",
    "Same revision: GW-C",
    "Same cell lot: C-3",
    "Same complaint",
  ]);
  expect(whatSolved(ranked, new Date("2026-02-11"))).toEqual([
    {
      remedy: "replace",
      confirmedFault: "weak-cell",
      count: 2,
      cameBack: 0,
      undecided: 0,
      daysSince: { least: 31, most: 61 },
      work: [
        { what: "Cell group exchanged", count: 2 },
        { what: "Potted again", count: 1 },
      ],
    },
    {
      ...{ remedy: "repair", confirmedFault: "weak-cell", count: 1, cameBack: 1, undecided: 0, work: [] },
      daysSince: { least: 9, most: 9 },
    },
    {
      ...{ remedy: "replace", confirmedFault: "unknown", count: 1, cameBack: 0, undecided: 0, work: [] },
      daysSince: { least: 31, most: 31 },
    },
  ]);
  // What was refused, handed back unchanged or refunded, and what nobody has carried out yet, solved nothing.
  for (const over of [{ remedy: "refuse" }, { remedy: "return-as-is" }, { remedy: "refund" }, { carriedOutAt: null }]) {
    const alike = rankSimilar(current, [past("found weak", { confirmedFault: "weak-cell", ...over })]);
    expect(alike).toHaveLength(1);
    expect(whatSolved(alike, new Date("2026-02-11")), JSON.stringify(over)).toEqual([]);
  }
});

test("a past return is alike by the lots its pack had when it was lodged, whatever was exchanged since", () => {
  const lot = (code: string, over: Partial<FittedLot> = {}): FittedLot => ({
    lot: { kind: "board", code },
    fittedOn: null,
    removedOn: null,
    ...over,
  });
  const exchangedOn = calendarDate("2026-01-05");
  const lots = [
    lot("weak", { removedOn: exchangedOn }),
    lot("sound", { fittedOn: exchangedOn }),
    // Work that was struck out: it was never in.
    lot("struck", { fittedOn: exchangedOn, removedOn: exchangedOn }),
  ];
  const on = (date: string) => lotsInPackOn(lots, calendarDate(date)).map(({ code }) => code);
  expect(on("2026-01-02")).toEqual(["weak"]);
  // Lodged on the day of the exchange: it was exchanged because of what was lodged.
  expect(on("2026-01-05")).toEqual(["weak"]);
  expect(on("2026-01-06")).toEqual(["sound"]);
  const signature = { ...current, faults: [], lots: [{ kind: "board", code: "weak" }], revisionCode: "GW-A" };
  const repaired = past("repaired", { lots: lotsInPackOn(lots, calendarDate("2026-01-02")), remedy: "repair" });
  const replaced = past("replaced", { lots: signature.lots });
  expect(rankSimilar(signature, [repaired, replaced]).map(({ past: { reference } }) => reference)).toEqual([
    "repaired",
    "replaced",
  ]);
});

test("a remedy did not hold where something is found later, not where a later return was joined, withdrawn, lapsed or found nothing", () => {
  const handedOver = new Date("2026-01-11");
  const later = (over: Partial<LaterReturn>): LaterReturn => ({
    ...{ lodgedAt: new Date("2026-03-01"), status: "closed", confirmedFault: "sense-wire" },
    ...over,
  });
  expect(comebackOf(handedOver, [])).toBe("none");
  expect(comebackOf(handedOver, [later({})])).toBe("confirmed");
  expect(comebackOf(null, [later({})])).toBe("none");
  expect(comebackOf(handedOver, [later({ lodgedAt: new Date("2026-01-01") })])).toBe("none");
  for (const status of ["merged", "withdrawn", "lapsed", "draft"] as const)
    expect(comebackOf(handedOver, [later({ status })]), status).toBe("none");
  for (const confirmedFault of ["no-fault-found", "outside-cause"])
    expect(comebackOf(handedOver, [later({ confirmedFault })]), confirmedFault).toBe("none");
  expect(comebackOf(handedOver, [later({ status: "under-test", confirmedFault: null })])).toBe("undecided");
  // Under an objection the fault that was named before does not stand.
  expect(comebackOf(handedOver, [later({ status: "in-review" })])).toBe("undecided");
});

const draft = draftTests({
  groups: 16,
  ratedCapacityAh: 40,
  cellMinV: 2.8,
  cellMaxV: 4.2,
  continuousDischargeA: 120,
  groupResistanceMilliohm: null,
});

test("an entry is judged with the larger of the uncertainties, by the limits of a new build after work", () => {
  const capacity = draft.find(({ key }) => key === "capacity");
  if (capacity === undefined) throw new Error("no such test");
  const bench: KnownInstrument = {
    code: "C-01",
    kind: "capacity-bench",
    calibrations: [
      {
        outcome: "passed",
        calibratedOn: calendarDate("2026-01-09"),
        dueOn: calendarDate("2026-12-31"),
        uncertaintyPercent: 1,
        uncertaintyFloor: 0,
      },
    ],
  };
  const judge = (over: Readonly<Record<string, string>>) => {
    const typed = {
      reference: "R",
      planId: "0198c5a0-0000-7000-8000-000000000000",
      testKey: "capacity",
      instrument: "C-01",
    };
    return judgeEntry(
      capacity,
      resultEntrySchema.parse({ ...typed, value: "36", ...over }),
      [bench],
      calendarDate("2026-10-05"),
    );
  };
  // 80 % of 40 Ah as found, 98 % of it after work.
  expect(judge({})).toMatchObject({ reading: { verdict: "inside", expandedUncertainty: 0.36 } });
  expect(judge({ purpose: "retest" })).toMatchObject({ reading: { verdict: "outside", limits: { lower: 39.2 } } });
  expect(judge({ expandedUncertainty: "5" })).toMatchObject({ reading: { verdict: "cannot-tell" } });
  expect(judge({ expandedUncertainty: "0,1" })).toMatchObject({ kind: "refused", field: "expandedUncertainty" });
  expect(judge({ value: "" })).toMatchObject({ kind: "refused", field: "value" });
});

test("a model without a healthy resistance has a plan without the tests that need it", () => {
  expect(draft.map(({ key }) => key)).not.toContain("load-drop");
  expect(draft.map(({ key }) => key)).toContain("capacity");
});

test("beside a test stands what the readings say, with twice its standard uncertainty and its group", () => {
  const row = (group: number, value: number, uncertainty: number | null) => ({
    name: "resistance-10s",
    group,
    value,
    unit: "mOhm",
    uncertainty,
  });
  expect(readingsBeside(["resistance-"], [row(1, 1.2, 0.01), row(7, 1.9, 0.02)])).toEqual([
    "Resistance 10 s: 1.9 mΩ ± 0.04 mΩ in group 7, the most of 2",
  ]);
  expect(readingsBeside(["capacity-"], [row(1, 1.2, null)])).toEqual([]);
});

test("a round of tests begins each time the pack comes to the bench", () => {
  const at = (day: number) => new Date(Date.UTC(2026, 9, day));
  const moves = [
    { move: "start-test", at: at(1) },
    { move: "object", at: at(5) },
    { move: "start-test", at: at(9) },
  ];
  expect(testRound(moves)).toEqual({ testsBeganAt: at(9), reviewedAnewAt: at(5) });
  expect(testRound([])).toEqual({ testsBeganAt: null, reviewedAnewAt: null });
});
