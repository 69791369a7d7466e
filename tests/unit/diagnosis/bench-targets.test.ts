import { expect, test } from "vitest";
import type { Finding } from "@/lib/diagnosis/finding";
import { bareFinding } from "@/tests/support/bare-finding";
import { isNamed, type Verdict } from "../../bench/diagnosis/judge-trial";
import { targetsOf } from "../../bench/diagnosis/targets";

// The targets of issue 3, clause 8: 0.99 of acute events and loose wires, 0.95 of the others, 1 % alarms, no acute file called sound.

const verdict: Verdict = {
  seed: 0,
  place: 0,
  healthyUse: null,
  unusable: null,
  findings: [],
  remedy: "cannot-tell",
  reasons: [],
  faults: [],
  falseFindings: [],
  right: [],
};

function withFault(fault: "acute-event" | "weak-cell", named: boolean): Verdict {
  const planted = { fault, groups: [1], severity: 1, kind: "", size: 1, unit: "", alsoTrue: [], mischief: {} };
  return {
    ...verdict,
    faults: [{ planted, visibility: "visible", named, mentioned: named, leads: named, saidUnseen: false }],
  };
}

const missed = (verdicts: readonly Verdict[]) =>
  targetsOf(verdicts)
    .filter(({ reached }) => reached === false)
    .map(({ name }) => name);

test("one weak cell of twenty missed reaches its target, two do not; one acute event of twenty missed misses its own", () => {
  const named = (fault: "acute-event" | "weak-cell", of: number) =>
    Array.from({ length: 20 }, (_, place) => withFault(fault, place < of));
  expect(missed(named("weak-cell", 19))).toEqual([]);
  expect(missed(named("weak-cell", 18))).toEqual(["weak-cell named, at least 0.95"]);
  expect(missed(named("acute-event", 19))).toEqual(["acute-event named, at least 0.99"]);
});

test("an alarm on one of ninety-nine healthy packs is one too many, and so is an acute file called sound", () => {
  const healthy = { ...verdict, healthyUse: "long storage" as const };
  const alarmed = { ...healthy, falseFindings: [{ ...bareFinding, fault: "main-lead" as const }] };
  expect(missed([alarmed, ...Array.from({ length: 98 }, () => healthy)])).toEqual([
    "alarms on healthy packs, at most 0.01",
  ]);
  expect(missed([alarmed, ...Array.from({ length: 99 }, () => healthy)])).toEqual([]);
  const sound = { ...withFault("acute-event", true), findings: [{ ...bareFinding, fault: "no-fault-found" as const }] };
  expect(missed([sound])).toEqual(['acute files called "no fault found", never']);
});

test("what a run holds none of is neither reached nor missed", () => {
  const proven = targetsOf([withFault("weak-cell", true)]).filter(({ reached }) => reached !== null);
  expect(proven.map(({ name }) => name)).toEqual(["weak-cell named, at least 0.95"]);
});

test("a fault counts as named at its group only, first or sure enough to be acted on, and in no pack that is given back", () => {
  const weak = { ...bareFinding, fault: "weak-cell" as const };
  const planted = { fault: "weak-cell", groups: [7] } as const;
  const first = { ...bareFinding, fault: "imbalance" as const, confidence: 0.9 };
  const named = (groups: readonly number[], confidence: number, before: readonly Finding[] = [first]) =>
    isNamed([...before, { ...weak, groups, confidence }], "replace", planted);
  expect(named([7], 0.5)).toBe(true);
  expect(named([3, 7], 0.9)).toBe(true);
  expect(named([7], 0.49)).toBe(false);
  expect(named([7], 0.2, [])).toBe(true);
  // A pack that is worn out, or another group, is not group 7.
  expect(named([], 0.9)).toBe(false);
  expect(named([3], 0.9)).toBe(false);
  expect(isNamed([{ ...weak, groups: [7] }], "return-as-is", planted)).toBe(false);
  // A fault of the pack has no group to name.
  const lead = { ...bareFinding, fault: "main-lead" as const, groups: [] };
  expect(isNamed([lead], "repair", { fault: "main-lead", groups: [] })).toBe(true);
});

test("what healthy packs are told stands beside their alarms", () => {
  const healthy = { ...verdict, healthyUse: "long storage" as const };
  const sound = { ...healthy, remedy: "return-as-is" };
  const alarms = targetsOf([healthy, sound, sound, sound]).find(({ name }) => name.startsWith("alarms"));
  expect(alarms?.said).toMatch(/^0\.000 .*; "cannot tell" of them 0\.250 .*1 of 4\)$/);
});
