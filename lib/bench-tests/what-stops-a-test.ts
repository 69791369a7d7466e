import type { CustodyPlace } from "@/lib/returns/custody-track";
import type { ReturnStatus } from "@/lib/returns/return-status";
import { isSetApart, type SafetyState } from "@/lib/returns/safety-track";
import { type NoFaultOutcome, type NoFaultStep, noFaultOutcomes, noFaultStepWords } from "./no-fault-protocol";
import { type TestDefinition, type TestPhase, type TestPurpose, testPhases } from "./test-definition.schema";
import type { TestStanding } from "./test-standing";

/** Why a test is not to be made now. One sentence each, for the person at the bench. */
export const testStops = {
  "not-on-the-bench": "The return is not under test, so nothing is measured for it now.",
  "not-in-work": "A re-test comes after work on the pack, and none is under way.",
  "not-a-retest": "This test is no part of the re-test.",
  "pack-not-here": "The pack is not on the bench or in the workshop.",
  "set-apart":
    "The pack is set apart for safety: nothing but looking from a distance until the safety officer has judged it.",
  "no-load-after-insulation":
    "The insulation is outside its limits: nothing is loaded or shaken. Say at each open test that it is left out, and why.",
  "evidence-first": "Tests that keep evidence come first: do them, or say why one is left out.",
  "on-hold": "A legal hold lies on this pack: nothing that destroys it goes ahead.",
  "held-as-evidence": "An open safety incident holds this pack as evidence: nothing that destroys it goes ahead.",
  "others-first": "What destroys comes last: mandatory tests are still open.",
} as const;
export type TestStop = keyof typeof testStops;

export interface BenchFacts {
  readonly purpose: TestPurpose;
  readonly status: ReturnStatus | null;
  readonly custody: CustodyPlace;
  /** As the pack is handled: the flag, or set apart where an open incident holds it. */
  readonly safety: SafetyState;
  readonly isOnHold: boolean;
  /** An open incident forbids what destroys (lib/safety/freeze-facts.ts). */
  readonly noDestructiveTest: boolean;
  readonly standings: readonly TestStanding[];
}

/** Readings that a later test spoils for ever. */
const evidencePhases: readonly TestPhase[] = ["look", "insulation", "at-rest"];

/** What a test, or a step that is like one, asks of the pack. */
export type AskedOfPack = Pick<TestDefinition, "phase" | "isDestructive" | "isRetest">;

/**
 * What stops a test now; null where it may be made. Looking is always open while the return is on the bench, so that
 * somebody who sees a pack swell can write it down. Common practice of the trade, no source; the rules on safety, hold
 * and evidence are those of the tracks beside the case.
 */
export function whatStopsTest(test: AskedOfPack, bench: BenchFacts): TestStop | null {
  const { purpose, status, standings } = bench;
  if (purpose === "finding" && status !== "under-test") return "not-on-the-bench";
  if (purpose === "retest" && status !== "work-in-progress") return "not-in-work";
  if (purpose === "retest" && !test.isRetest) return "not-a-retest";
  if (!["bench", "workshop"].includes(bench.custody)) return "pack-not-here";
  if (test.isDestructive) {
    if (bench.noDestructiveTest) return "held-as-evidence";
    if (bench.isOnHold) return "on-hold";
  }
  if (test.phase === "look") return null;
  if (isSetApart(bench.safety)) return "set-apart";
  const order = testPhases.indexOf(test.phase);
  const isBefore = ({ test: other }: TestStanding) => testPhases.indexOf(other.phase) < order;
  const insulationFailed = standings.some(
    ({ test: other, state }) =>
      other.phase === "insulation" &&
      (state.kind === "done" || state.kind === "in-doubt") &&
      state.verdict === "outside",
  );
  if (insulationFailed && order > testPhases.indexOf("at-rest") && !test.isDestructive)
    return "no-load-after-insulation";
  if (purpose === "retest") return null;
  const open = standings.filter((one) => one.test.isMandatory && one.state.kind === "open" && isBefore(one));
  if (open.some((one) => evidencePhases.includes(one.test.phase))) return "evidence-first";
  return test.isDestructive && open.length > 0 ? "others-first" : null;
}

/** What stops a step of the protocol before "no fault found" now; null where it may be made, or needs no hand on the pack. */
export function whatStopsStep(step: NoFaultStep, bench: BenchFacts): TestStop | null {
  const { phase } = noFaultStepWords[step];
  return phase === null ? null : whatStopsTest({ phase, isDestructive: false, isRetest: false }, bench);
}

/**
 * What may be written down of a step: where the pack may not be touched now, that it showed before it was stopped, or
 * that the step could not be done. That nothing showed would say the step was made. Off the bench nothing was made.
 */
export function outcomesOpen(stop: TestStop | null): readonly NoFaultOutcome[] {
  if (stop === null) return noFaultOutcomes;
  return stop === "not-on-the-bench" ? [] : ["shown", "not-possible"];
}
