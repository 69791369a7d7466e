import type { RetestStanding } from "@/lib/bench-tests/test-standing";

export type ReleaseRefusal =
  | "not-in-work"
  | "released-before"
  | "nothing-done"
  | "own-work"
  | "signature-missing"
  | "no-plan"
  | "retest-open"
  | "outside-limits"
  | "cannot-tell";

export interface ReleaseFacts {
  readonly isInWork: boolean;
  readonly isReleased: boolean;
  /** Who recorded work that stands. */
  readonly workerIds: readonly string[];
  /** Null where no approved test plan holds for the pack: then there are no limits to pass. */
  readonly retest: RetestStanding | null;
}

export interface RefusedRelease {
  readonly why: ReleaseRefusal;
  readonly sentence: string;
}

/**
 * Why a repaired pack is not released; null where it may be. It passes the limits of a new build in every test of the
 * re-test made after the last work, and whoever signs did none of the work. "Cannot tell" has not passed.
 */
export function whyNotReleased(facts: ReleaseFacts, userId: string, signature: string): RefusedRelease | null {
  const refused = (why: ReleaseRefusal, sentence: string): RefusedRelease => ({ why, sentence });
  const { retest } = facts;
  if (!facts.isInWork) return refused("not-in-work", "This return is not in work by a decision to repair the pack.");
  if (facts.isReleased) return refused("released-before", "The pack is released already.");
  if (facts.workerIds.length === 0)
    return refused("nothing-done", "Record first what was done to the pack. Without work there is nothing to release.");
  if (facts.workerIds.includes(userId))
    return refused("own-work", "Somebody else releases it: you worked on this pack yourself.");
  if (signature.trim().length < 3) return refused("signature-missing", "Sign with your full name.");
  if (retest === null)
    return refused("no-plan", "No approved test plan holds for this pack, so there are no limits it could pass.");
  if (retest.kind === "open")
    return refused(
      "retest-open",
      retest.missing.length === 0
        ? "The test plan names no test for the time after work. Have one approved first."
        : `Still to be tested after the last work: ${titles(retest.missing)}.`,
    );
  if (retest.kind === "failed") {
    return retest.outside.length > 0
      ? refused("outside-limits", `Outside the limits of a new build: ${titles(retest.outside)}.`)
      : refused("cannot-tell", `Nobody can tell whether it is within the limits: ${titles(retest.cannotTell)}.`);
  }
  return null;
}

function titles(tests: readonly { readonly title: string }[]): string {
  return tests.map(({ title }) => title).join("; ");
}
