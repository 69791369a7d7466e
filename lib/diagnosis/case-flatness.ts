import { type Finding, isGrave } from "@/lib/diagnosis/finding";
import { confidence } from "@/lib/diagnosis/wording";

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

export interface CaseGapRead {
  readonly gapMillimetre: number;
  readonly readAt: Date;
}

export interface GapsThatCount {
  readonly largestMillimetre: number;
  readonly smallestMillimetre: number;
}

/**
 * Of several readings the largest and the smallest count, mm: a straight-edge laid beside a bulge or a dent reads less of it, so no
 * reading withdraws another. Those before a named person judged the pack are answered by that. Null where none is left.
 */
export function gapsThatCount(readings: readonly CaseGapRead[], judgedAt: Date | null): GapsThatCount | null {
  const open = readings
    .filter(({ readAt }) => judgedAt === null || readAt > judgedAt)
    .map(({ gapMillimetre }) => gapMillimetre);
  return open.length === 0 ? null : { largestMillimetre: Math.max(...open), smallestMillimetre: Math.min(...open) };
}

/**
 * What all readings that count come to: that of the largest where the case grew beyond what was judged, with what the smallest says
 * of a bend beside it.
 */
export function findingOfGaps(
  builtGapMillimetre: number | null,
  gaps: GapsThatCount,
  judgedGapMillimetre: number | null = null,
): Finding | null {
  const { largestMillimetre, smallestMillimetre } = gaps;
  const known = { builtGapMillimetre, judgedGapMillimetre };
  const largest = openCaseFinding({ ...known, foundGapMillimetre: largestMillimetre });
  const smallest = openCaseFinding({ ...known, foundGapMillimetre: smallestMillimetre });
  if (largest === null || smallest === null) return largest ?? smallest;
  if (largest.safetyClass === smallest.safetyClass) return isGrave(largest.safetyClass) ? largest : smallest;
  return { ...largest, evidenceFor: [...largest.evidenceFor, ...smallest.evidenceFor] };
}

/**
 * The largest gap that a named person has judged, mm: one that had grown beyond what two readings differ by when the flag was
 * lowered. Null where none had, or nobody knows how the case was built.
 */
export function largestJudgedGap(
  readings: readonly CaseGapRead[],
  builtGapMillimetre: number | null,
  judgedAt: Date | null,
): number | null {
  if (builtGapMillimetre === null || judgedAt === null) return null;
  const judged = readings.filter(
    ({ gapMillimetre, readAt }) => readAt <= judgedAt && gapMillimetre - builtGapMillimetre > READING_AGREES_WITHIN_MM,
  );
  return judged.length === 0 ? null : Math.max(...judged.map(({ gapMillimetre }) => gapMillimetre));
}

/**
 * What nobody has judged yet of a gap: as `caseFinding`, but a gap that grew is none while it reads as the one that was judged, or
 * less. Whoever is called again for what was judged learns to lower the flag unread.
 */
export function openCaseFinding(gaps: {
  readonly builtGapMillimetre: number | null;
  readonly foundGapMillimetre: number;
  readonly judgedGapMillimetre: number | null;
}): Finding | null {
  const { builtGapMillimetre: built, foundGapMillimetre: found, judgedGapMillimetre: judged } = gaps;
  const hasGrown = built !== null && found > built;
  if (hasGrown && judged !== null && found - judged <= READING_AGREES_WITHIN_MM) return null;
  return caseFinding(gaps);
}

/** Belief that a case whose gap changed is damaged: by growth beyond two readings' difference, and by a bend inwards. Engineering defaults. */
const grownBelief = 0.8;
const bentBelief = 0.4;

/**
 * F15 by the straight-edge, which no readings file can show: a gap that grew may be swelling and sets the pack apart; one that fell
 * was bent, and somebody has to look for the blow. Null where the case kept its shape, or nobody knows what it was.
 */
export function caseFinding(gaps: {
  readonly builtGapMillimetre: number | null;
  readonly foundGapMillimetre: number;
}): Finding | null {
  const { builtGapMillimetre: built, foundGapMillimetre: found } = gaps;
  const { outcome, sentence } = judgeCaseFlatness(gaps);
  if (outcome !== "changed" || built === null) return null;
  const grew = found > built;
  return {
    fault: "mechanical-damage",
    groups: [],
    confidence: confidence(grew ? grownBelief : bentBelief),
    safetyClass: grew ? "A1" : "B",
    evidenceFor: [sentence],
    evidenceAgainst: [
      grew
        ? "A blow may bend a case as well, and a straight-edge laid otherwise reads otherwise."
        : "A straight-edge laid otherwise reads otherwise.",
    ],
    nextTest: grew
      ? "Leave it closed and apart; read the gap again after a day: whether it goes on growing. A named person judges it."
      : "Look at case, seams and connector for the mark of a blow, and read the gap again.",
  };
}
