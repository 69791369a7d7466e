import type { TestDefinition, TestPurpose } from "./test-definition.schema";
import type { Verdict } from "./verdict";

/** A kept result, as far as its standing needs it. */
export interface KeptResult {
  readonly id: string;
  readonly testKey: string;
  readonly purpose: TestPurpose;
  readonly verdict: Verdict;
  /** The result this one corrects. */
  readonly correctsId: string | null;
  /** Its instrument was found to be off afterwards (`doubtful-result.ts`). */
  readonly isInDoubt: boolean;
  readonly at: Date;
}

export interface KeptWaiver {
  readonly testKey: string;
  readonly at: Date;
}

export type TestState =
  | { readonly kind: "open" }
  /** In doubt: the verdict is what it was, but nothing is proposed and nothing released on it. */
  | { readonly kind: "done" | "in-doubt"; readonly verdict: Verdict; readonly resultId: string }
  | { readonly kind: "waived" };

export interface TestStanding {
  readonly test: TestDefinition;
  readonly state: TestState;
}

/**
 * Where each test of the plan stands, from what was written down since the tests began. A result that was corrected does
 * not count, its correction does; of several the newest counts, because a test is taken again where it could not tell.
 * A result outweighs a waiver whenever it came.
 */
export function testStandings(
  tests: readonly TestDefinition[],
  results: readonly KeptResult[],
  waivers: readonly KeptWaiver[],
  { purpose, since }: { readonly purpose: TestPurpose; readonly since: Date | null },
): TestStanding[] {
  const inRound = (at: Date) => since === null || at >= since;
  const corrected = new Set(results.map(({ correctsId }) => correctsId));
  const counting = results.filter(
    (result) => result.purpose === purpose && inRound(result.at) && !corrected.has(result.id),
  );
  return tests.map((test) => {
    const newest = counting
      .filter(({ testKey }) => testKey === test.key)
      .reduce<KeptResult | null>((last, one) => (last === null || one.at >= last.at ? one : last), null);
    if (newest !== null && !newest.isInDoubt)
      return { test, state: { kind: "done", verdict: newest.verdict, resultId: newest.id } };
    // Left out counts for what is in doubt only where somebody said so after it was measured.
    const isWaived =
      purpose === "finding" &&
      waivers.some(
        ({ testKey, at }) =>
          testKey === test.key && inRound(at) && (newest === null || at.getTime() > newest.at.getTime()),
      );
    if (isWaived) return { test, state: { kind: "waived" } };
    if (newest !== null) return { test, state: { kind: "in-doubt", verdict: newest.verdict, resultId: newest.id } };
    return { test, state: { kind: "open" } };
  });
}

/** The mandatory tests nobody has done beyond doubt or left out with a reason. */
export function openMandatory(standings: readonly TestStanding[]): TestDefinition[] {
  return standings
    .filter(({ test, state }) => test.isMandatory && (state.kind === "open" || state.kind === "in-doubt"))
    .map(({ test }) => test);
}

/** The mandatory tests as one word, for the table of moves. */
export function mandatoryTests(standings: readonly TestStanding[]): "done" | "waived" | "open" {
  if (openMandatory(standings).length > 0) return "open";
  return standings.some(({ test, state }) => test.isMandatory && state.kind === "waived") ? "waived" : "done";
}

export type RetestStanding =
  | { readonly kind: "passed" }
  | { readonly kind: "open"; readonly missing: readonly TestDefinition[] }
  | {
      readonly kind: "failed";
      readonly outside: readonly TestDefinition[];
      readonly cannotTell: readonly TestDefinition[];
    };

/**
 * Whether a pack passed the re-test after work by the limits of a new build: every test of the re-test inside. One that
 * cannot tell has not passed. Give it the standings of the purpose "retest".
 */
export function retestStanding(standings: readonly TestStanding[]): RetestStanding {
  const asked = standings.filter(({ test }) => test.isRetest);
  const missing = asked.filter(({ state }) => state.kind !== "done").map(({ test }) => test);
  if (asked.length === 0 || missing.length > 0) return { kind: "open", missing };
  const withVerdict = (verdict: Verdict) =>
    asked.filter(({ state }) => state.kind === "done" && state.verdict === verdict).map(({ test }) => test);
  const outside = withVerdict("outside");
  const cannotTell = withVerdict("cannot-tell");
  return outside.length + cannotTell.length === 0 ? { kind: "passed" } : { kind: "failed", outside, cannotTell };
}

/** Whether every mandatory test was made and came out inside its limits, beyond doubt. One left out was not made. */
export function allMandatoryInside(standings: readonly TestStanding[]): boolean {
  const mandatory = standings.filter(({ test }) => test.isMandatory);
  return mandatory.length > 0 && mandatory.every(({ state }) => state.kind === "done" && state.verdict === "inside");
}

/** Whether a test that destroys was made: the pack is not what it was. */
export function wasOpened(standings: readonly TestStanding[]): boolean {
  return standings.some(
    ({ test, state }) => test.isDestructive && (state.kind === "done" || state.kind === "in-doubt"),
  );
}
