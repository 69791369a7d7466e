import { expect, test } from "vitest";
import { bareFinding } from "@/tests/support/bare-finding";
import type { Verdict } from "../../bench/diagnosis/judge-trial";
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
  return { ...verdict, faults: [{ planted, visibility: "visible", named, leads: named, saidUnseen: false }] };
}

const missed = (verdicts: readonly Verdict[]) =>
  targetsOf(verdicts)
    .filter(({ reached }) => !reached)
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
