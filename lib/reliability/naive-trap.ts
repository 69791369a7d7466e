import type { EqualAgeComparison } from "./compare-at-equal-age";
import type { NaiveReturnRatio } from "./group-report";
import { inHundred } from "./plain-share";

interface CountedRevision {
  readonly group: string;
  readonly naive: NaiveReturnRatio;
}

/**
 * One sentence on why returns divided by dispatched packs mislead, with a case from the numbers at hand where there is
 * one: two revisions that this ratio puts in the opposite order to their estimates at equal age. Nothing is claimed
 * about which of the two is worse where their limits overlap.
 */
export function naiveTrapSentence(
  revisions: readonly CountedRevision[],
  comparisons: readonly EqualAgeComparison[],
): string {
  const [trap] = comparisons
    .flatMap((comparison) => {
      const higher = ratioOf(revisions, comparison.higher.group);
      const lower = ratioOf(revisions, comparison.lower.group);
      return higher === null || lower === null || higher >= lower ? [] : [{ ...comparison, ratios: { higher, lower } }];
    })
    .toSorted((a, b) => b.ratios.lower - b.ratios.higher - (a.ratios.lower - a.ratios.higher));
  if (trap === undefined) {
    return "Packs in stock and packs sold last week count as packs that lasted, so whatever is youngest looks best.";
  }
  const { higher, lower, months, apart, ratios } = trap;
  const unsure = apart ? "" : ", although their limits overlap";
  return (
    `By that ratio ${higher.group} (${inHundred(ratios.higher)}) ` +
    `looks better than ${lower.group} (${inHundred(ratios.lower)}), because its packs are younger. By ${months} months in ` +
    `use it is the other way round: ${inHundred(higher.estimate.probability)} against ${inHundred(lower.estimate.probability)}${unsure}.`
  );
}

function ratioOf(revisions: readonly CountedRevision[], code: string): number | null {
  const ratio = revisions.find(({ group }) => group === code)?.naive.ratio ?? null;
  return ratio === null ? null : Math.min(1, ratio);
}
