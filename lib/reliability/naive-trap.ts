import type { EqualAgeComparison } from "./compare-at-equal-age";
import { inHundred } from "./plain-share";
import type { NaiveReturnRatio } from "./revision-report";

interface CountedRevision {
  readonly revisionCode: string;
  readonly naive: NaiveReturnRatio;
}

/**
 * One sentence on why returns divided by dispatched packs mislead, with a case from the numbers at hand where there is
 * one: two revisions that this ratio puts in the wrong order, although their 95 % limits at equal age leave a gap.
 */
export function naiveTrapSentence(
  revisions: readonly CountedRevision[],
  comparisons: readonly EqualAgeComparison[],
): string {
  const trap = comparisons
    .filter(({ apart }) => apart)
    .flatMap(({ higher, lower, months }) => {
      const worse = ratioOf(revisions, higher.revisionCode);
      const better = ratioOf(revisions, lower.revisionCode);
      if (worse === null || better === null || worse >= better) return [];
      return [{ worseCode: higher.revisionCode, betterCode: lower.revisionCode, worse, better, months }];
    })
    .toSorted((a, b) => b.better / b.worse - a.better / a.worse)[0];
  if (trap === undefined) {
    return "Returns divided by dispatched packs mislead: packs in stock and packs sold last week count as packs that lasted, so the youngest revision always looks best.";
  }
  const { worseCode, betterCode, worse, better, months } = trap;
  return (
    `Returns divided by dispatched packs mislead: by that ratio ${worseCode} (${inHundred(worse)}) looks better than ` +
    `${betterCode} (${inHundred(better)}), only because its packs are younger; at ${months} months in use it is the worse one.`
  );
}

function ratioOf(revisions: readonly CountedRevision[], code: string): number | null {
  const ratio = revisions.find(({ revisionCode }) => revisionCode === code)?.naive.ratio ?? null;
  return ratio === null ? null : Math.min(1, ratio);
}
