import { expect, test } from "vitest";
import { draftTests } from "@/lib/bench-tests/first-draft";
import { type NoFaultStep, noFaultOutcomes, noFaultSteps, noFaultStepWords } from "@/lib/bench-tests/no-fault-protocol";
import {
  type KeptResult,
  mandatoryTests,
  openMandatory,
  retestStanding,
  testStandings,
} from "@/lib/bench-tests/test-standing";
import {
  type BenchFacts,
  outcomesOpen,
  type TestStop,
  whatStopsStep,
  whatStopsTest,
} from "@/lib/bench-tests/what-stops-a-test";
import { safetyStates } from "@/lib/returns/safety-track";

const tests = draftTests({
  groups: 16,
  ratedCapacityAh: 40,
  cellMinV: 2.8,
  cellMaxV: 4.2,
  continuousDischargeA: 120,
  groupResistanceMilliohm: 0.9,
});
const began = new Date("2026-10-05T09:00:00Z");
const hour = (hours: number) => new Date(began.getTime() + hours * 3_600_000);
const result = (testKey: string, over: Partial<KeptResult> = {}): KeptResult => ({
  id: testKey,
  testKey,
  purpose: "finding",
  verdict: "inside",
  correctsId: null,
  isInDoubt: false,
  at: hour(1),
  ...over,
});
const round = { purpose: "finding", since: began } as const;
const standings = (results: readonly KeptResult[], waived: readonly string[] = []) =>
  testStandings(
    tests,
    results,
    waived.map((testKey) => ({ testKey, at: hour(2) })),
    round,
  );
const mandatory = tests.filter(({ isMandatory }) => isMandatory).map(({ key }) => key);
const allDone = mandatory.map((key) => result(key));

const bench = {
  purpose: "finding",
  status: "under-test",
  custody: "bench",
  safety: "normal",
  isOnHold: false,
  noDestructiveTest: false,
} as const;

function stopOf(key: string, over: Partial<BenchFacts> = {}, results: readonly KeptResult[] = []): TestStop | null {
  const found = tests.find((one) => one.key === key);
  if (found === undefined) throw new RangeError(key);
  return whatStopsTest(found, { ...bench, standings: standings(results), ...over });
}

test("nothing is loaded while a test that keeps evidence is open, and nothing destroyed while any mandatory one is", () => {
  const atRest = ["outside", "log-saved", "insulation", "terminal-voltage", "rest-spread", "rest-drift"];
  expect(stopOf("outside")).toBeNull();
  expect(stopOf("insulation")).toBe("evidence-first");
  expect(stopOf("capacity")).toBe("evidence-first");
  const rested = atRest.map((key) => result(key));
  expect(stopOf("capacity", {}, rested.slice(0, 5))).toBe("evidence-first");
  expect(stopOf("capacity", {}, rested)).toBeNull();
  expect(stopOf("opened", {}, rested)).toBe("others-first");
  expect(stopOf("opened", {}, allDone)).toBeNull();
  // Left out with a reason opens the way as well.
  const waived = { standings: standings(rested.slice(0, 5), ["rest-drift"]) };
  expect(stopOf("capacity", waived)).toBeNull();
});

test("a pack that is set apart is only looked at, whatever set it apart", () => {
  for (const safety of safetyStates) {
    const isApart = ["isolate", "do-not-move", "incident-open"].includes(safety);
    expect(stopOf("outside", { safety }), safety).toBeNull();
    for (const key of ["insulation", "capacity", "opened"]) {
      expect(stopOf(key, { safety }, allDone), `${key} ${safety}`).toBe(isApart ? "set-apart" : null);
    }
  }
});

test("a legal hold or an open incident stops what destroys, and nothing else", () => {
  expect(stopOf("opened", { isOnHold: true }, allDone)).toBe("on-hold");
  expect(stopOf("opened", { noDestructiveTest: true }, allDone)).toBe("held-as-evidence");
  expect(stopOf("capacity", { isOnHold: true, noDestructiveTest: true }, allDone)).toBeNull();
});

test("after a failed insulation nothing is loaded until a newer reading is inside", () => {
  const failed = [
    ...allDone.filter(({ testKey }) => testKey !== "insulation"),
    result("insulation", { verdict: "outside" }),
  ];
  expect(stopOf("capacity", {}, failed)).toBe("no-load-after-insulation");
  expect(stopOf("rest-spread", {}, failed)).toBeNull();
  expect(stopOf("capacity", {}, [...failed, result("insulation", { id: "again", at: hour(3) })])).toBeNull();
});

test("a step before “no fault found” stops where a test like it would, and what showed before is never lost", () => {
  const stopOfStep = (step: NoFaultStep, over: Partial<BenchFacts> = {}, results: readonly KeptResult[] = allDone) =>
    whatStopsStep(step, { ...bench, standings: standings(results), ...over });
  const loaded = ["as-customer", "full-load", "shaken", "warm-and-cold"] as const;
  const failed = [
    ...allDone.filter(({ testKey }) => testKey !== "insulation"),
    result("insulation", { verdict: "outside" }),
  ];
  for (const step of loaded) {
    expect(stopOfStep(step), step).toBeNull();
    expect(stopOfStep(step, { safety: "isolate" }), step).toBe("set-apart");
    expect(stopOfStep(step, {}, failed), step).toBe("no-load-after-insulation");
    expect(stopOfStep(step, { custody: "with-dealer" }), step).toBe("pack-not-here");
    expect(stopOfStep(step, { status: "in-review" }), step).toBe("not-on-the-bench");
    expect(stopOfStep(step, {}, []), step).toBe("evidence-first");
  }
  // A hand on the pack, but no load; and a telephone, for which the pack need not be here at all.
  expect(stopOfStep("second-technician", {}, failed)).toBeNull();
  expect(stopOfStep("second-technician", { safety: "isolate" })).toBe("set-apart");
  expect(stopOfStep("ask-dealer", { safety: "isolate", custody: "with-dealer", status: "in-review" })).toBeNull();
  expect(outcomesOpen(null)).toEqual(noFaultOutcomes);
  expect(outcomesOpen("set-apart")).toEqual(["shown", "not-possible"]);
  expect(outcomesOpen("not-on-the-bench")).toEqual([]);
  // Where a hand is about to act a caution stands.
  for (const step of noFaultSteps)
    expect(noFaultStepWords[step].caution === null, step).toBe(noFaultStepWords[step].phase === null);
});

test("no test is recorded where the pack or the return is elsewhere", () => {
  expect(stopOf("outside", { status: "in-review" })).toBe("not-on-the-bench");
  expect(stopOf("outside", { custody: "quarantine" })).toBe("pack-not-here");
  expect(stopOf("outside", { purpose: "retest" })).toBe("not-in-work");
  expect(stopOf("outside", { purpose: "retest", status: "work-in-progress", custody: "workshop" })).toBeNull();
  expect(stopOf("log-saved", { purpose: "retest", status: "work-in-progress" })).toBe("not-a-retest");
});

test("mandatory tests are done, left out with a reason, or open; a correction and a second round count anew", () => {
  expect(mandatoryTests(standings([]))).toBe("open");
  expect(mandatoryTests(standings(allDone))).toBe("done");
  expect(openMandatory(standings(allDone.slice(1))).map(({ key }) => key)).toEqual([mandatory[0]]);
  expect(mandatoryTests(standings(allDone.slice(1), [mandatory[0] ?? ""]))).toBe("waived");
  // A result outweighs a waiver, and what was done before the pack came to the bench again counts for nothing.
  expect(mandatoryTests(standings(allDone, [mandatory[0] ?? ""]))).toBe("done");
  expect(mandatoryTests(standings(allDone.map((one) => ({ ...one, at: hour(-1) }))))).toBe("open");
  // So does a re-test after work.
  expect(mandatoryTests(standings(allDone.map((one) => ({ ...one, purpose: "retest" as const }))))).toBe("open");
  const wrong = result("capacity", { id: "typed wrongly", verdict: "outside", at: hour(5) });
  const right = result("capacity", { id: "as read", correctsId: "typed wrongly", at: hour(6) });
  const state = (results: readonly KeptResult[]) =>
    standings(results).find(({ test: { key } }) => key === "capacity")?.state;
  expect(state([wrong])).toMatchObject({ verdict: "outside" });
  expect(state([right, wrong])).toEqual({ kind: "done", verdict: "inside", resultId: "as read" });
});

test("a re-test is passed by every test inside; one that cannot tell has not passed", () => {
  const retest = tests.filter(({ isRetest }) => isRetest).map(({ key }) => result(key, { purpose: "retest" }));
  const of = (results: readonly KeptResult[]) =>
    retestStanding(testStandings(tests, results, [], { purpose: "retest", since: began }));
  expect(of(retest)).toEqual({ kind: "passed" });
  expect(of(retest.slice(1))).toMatchObject({ kind: "open", missing: [{ key: "outside" }] });
  expect(
    of(retest.map((one) => (one.testKey === "capacity" ? { ...one, verdict: "cannot-tell" as const } : one))),
  ).toMatchObject({
    kind: "failed",
    outside: [],
    cannotTell: [{ key: "capacity" }],
  });
});
