import type { FailureEstimate } from "./failure-estimate";

/** A revision as far as a comparison needs it: which model it is of, and what is known by which age. */
export interface ComparableRevision {
  readonly modelName: string;
  readonly group: string;
  /** Built today. */
  readonly current: boolean;
  readonly estimates: readonly FailureEstimate[];
}

export interface ComparedSide {
  readonly group: string;
  readonly current: boolean;
  readonly estimate: Extract<FailureEstimate, { kind: "estimate" }>;
}

export interface EqualAgeComparison {
  readonly modelName: string;
  readonly months: number;
  /** The one of the two whose estimate is higher. */
  readonly higher: ComparedSide;
  readonly lower: ComparedSide;
  /** Whether the 95 % limits of the two leave a gap between them. */
  readonly apart: boolean;
}

/**
 * Sets every two revisions of one model side by side, once, at the oldest age at which both can be told.
 *
 * One age for each pair, fixed by rule: whoever looks at every age and reports the one that differs most will find a
 * difference sooner or later. Two 95 % limits that leave a gap ask for more than a test at 5 % does: with equal standard
 * errors the estimates then lie more than 2 × 1.96 / √2 = 2.77 standard errors of their difference apart, which chance
 * alone brings about in 0.6 % of comparisons (two-sided, normal approximation).
 */
export function compareAtEqualAge(revisions: readonly ComparableRevision[]): EqualAgeComparison[] {
  return revisions.flatMap((one, position) =>
    revisions
      .slice(position + 1)
      .filter((other) => other.modelName === one.modelName)
      .flatMap((other) => comparePair(one, other) ?? []),
  );
}

function comparePair(one: ComparableRevision, other: ComparableRevision): EqualAgeComparison | null {
  const shared = one.estimates.flatMap((first) => {
    const second = other.estimates.find(({ months }) => months === first.months);
    return first.kind === "estimate" && second?.kind === "estimate" ? [{ first, second }] : [];
  });
  const oldest = shared.toSorted((a, b) => a.first.months - b.first.months).at(-1);
  if (oldest === undefined) return null;
  const sides = [sideOf(one, oldest.first), sideOf(other, oldest.second)] as const;
  const [higher, lower] =
    oldest.first.probability >= oldest.second.probability ? sides : ([sides[1], sides[0]] as const);
  return {
    modelName: one.modelName,
    months: oldest.first.months,
    higher,
    lower,
    apart: higher.estimate.lower > lower.estimate.upper,
  };
}

function sideOf({ group, current }: ComparableRevision, estimate: ComparedSide["estimate"]): ComparedSide {
  return { group, current, estimate };
}
