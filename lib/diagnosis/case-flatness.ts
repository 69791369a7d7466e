export interface CaseFlatness {
  readonly outcome: "unchanged" | "changed" | "cannot-tell";
  /** One whole sentence. */
  readonly sentence: string;
}

/**
 * mm. Two people with a straight-edge and a feeler gauge agree no better than this; a smaller change is no change.
 * Engineering default, no authority.
 */
export const READING_AGREES_WITHIN_MM = 0.5;

/**
 * Whether the case has changed its shape since it was built, from the largest gap to a straight-edge then and now, mm. A
 * seam-welded, potted steel case may rock or look bowed from new (common practice, no source), so the gap itself says
 * nothing; only a gap that grew may be swelling. Without a built value it cannot be told. RangeError for a negative gap.
 */
export function judgeCaseFlatness(gaps: {
  readonly builtGapMillimetre: number | null;
  readonly foundGapMillimetre: number;
}): CaseFlatness {
  const { builtGapMillimetre: built, foundGapMillimetre: found } = gaps;
  if (!(found >= 0) || (built !== null && !(built >= 0))) throw new RangeError("a gap is 0 mm or more");
  if (built === null) {
    return {
      outcome: "cannot-tell",
      sentence: `The gap is ${found.toFixed(1)} mm, and no gap was recorded when the pack was built: a bowed case may be bowed from new. Treat a swelling that anybody saw as one.`,
    };
  }
  const growth = found - built;
  if (Math.abs(growth) <= READING_AGREES_WITHIN_MM) {
    return {
      outcome: "unchanged",
      sentence: `The gap is ${found.toFixed(1)} mm as against ${built.toFixed(1)} mm when it was built: the case has not changed its shape beyond what two readings differ by.`,
    };
  }
  return {
    outcome: "changed",
    sentence:
      growth > 0
        ? `The gap grew from ${built.toFixed(1)} mm when it was built to ${found.toFixed(1)} mm: that may be swelling. Set the pack apart until a named person has judged it.`
        : `The gap fell from ${built.toFixed(1)} mm when it was built to ${found.toFixed(1)} mm: the case was bent since. Look for a blow.`,
  };
}
