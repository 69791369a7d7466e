import { type ComparableRevision, compareAtEqualAge, type EqualAgeComparison } from "./compare-at-equal-age";
import { type ExcessFailures, excessFailures, excessSentence, type LivesOfRevision } from "./excess-failures";
import { grouped, inHundred, inHundredBetween } from "./plain-share";

export type StandsOut =
  | { readonly kind: "cannot-tell"; readonly headline: string; readonly howLooked: string }
  | {
      readonly kind: "limits-overlap";
      readonly headline: string;
      readonly howLooked: string;
      readonly comparisons: readonly EqualAgeComparison[];
    }
  /** At no single age do the limits leave a gap, but over all ages together one fails more than the others. */
  | {
      readonly kind: "points-to";
      readonly headline: string;
      /** The shares with limits and counts at the oldest age that can be told, where the limits overlap. */
      readonly atOneAge: string;
      readonly howLooked: string;
      readonly excess: readonly ExcessFailures[];
      readonly comparisons: readonly EqualAgeComparison[];
    }
  | {
      readonly kind: "stands-out";
      readonly headline: string;
      readonly howLooked: string;
      /** One for each revision that fails more than another: the comparison with the widest gap. First the headline's. */
      readonly worse: readonly EqualAgeComparison[];
      /** Others that fail more than their age explains, over all ages together. */
      readonly excess: readonly ExcessFailures[];
      readonly comparisons: readonly EqualAgeComparison[];
    };

/**
 * Answers: does a revision fail more than another of its model at equal age, and how sure is that?
 *
 * A difference at one age is claimed only where the 95 % limits of the two leave a gap. Where none does, a difference
 * over all ages together is named as such, beside the fact that the limits overlap. Revisions built today come first,
 * because about them something can still be done. The number of comparisons looked at is always said.
 */
export function whatStandsOut(revisions: readonly (ComparableRevision & LivesOfRevision)[]): StandsOut {
  const comparisons = compareAtEqualAge(revisions);
  const looked = howLooked(comparisons);
  if (comparisons.length === 0) return { kind: "cannot-tell", headline: CANNOT_TELL, howLooked: looked };
  const worse = widestGapPerRevision(comparisons.filter(({ apart }) => apart));
  const excess = currentFirst(excessFailures(revisions)).filter(
    ({ group }) => !worse.some(({ higher }) => higher.group === group),
  );
  const [firstWorse] = worse;
  if (firstWorse !== undefined) {
    return { kind: "stands-out", headline: failsMore(firstWorse), howLooked: looked, worse, excess, comparisons };
  }
  const [firstExcess] = excess;
  if (firstExcess === undefined) return { kind: "limits-overlap", headline: OVERLAP, howLooked: looked, comparisons };
  const headline = excessSentence(firstExcess);
  return {
    kind: "points-to",
    headline,
    atOneAge: atOneAge(firstExcess, comparisons),
    howLooked: looked,
    excess,
    comparisons,
  };
}

const CANNOT_TELL =
  "It cannot be told yet whether a revision fails more than another: no two revisions of one model have been in use long enough, with enough failures, to be set side by side.";
const OVERLAP =
  "No revision stands out: wherever two revisions of one model can be set side by side at equal age, their 95 % limits overlap, so the difference between them may be chance.";

/** What the oldest age that can be told says of a revision with an excess: beside it, because it claims less. */
function atOneAge({ group }: ExcessFailures, comparisons: readonly EqualAgeComparison[]): string {
  const [widest] = comparisons.filter(({ higher }) => higher.group === group).toSorted((a, b) => gapOf(b) - gapOf(a));
  if (widest === undefined) return "At no single age does it lie above another revision yet.";
  const { months, higher, lower } = widest;
  return `By ${months} months in use about ${share(higher)}, against ${share(lower)} of ${lower.group}; at that age alone the limits still overlap.`;
}

function currentFirst(excess: readonly ExcessFailures[]): ExcessFailures[] {
  return excess.toSorted((a, b) => Number(b.current) - Number(a.current));
}

/** "Revision XX-C (built today) fails more than XX-B at equal age: by 12 months in use about 4.1 in 100 packs (…), against …" */
export function failsMore({ months, modelName, higher, lower }: EqualAgeComparison): string {
  const today = higher.current ? ", which is built today," : "";
  return (
    `Revision ${higher.group} of ${modelName}${today} fails more than ${lower.group} at equal age: ` +
    `by ${months} months in use about ${share(higher)}, against ${share(lower)} of ${lower.group}.`
  );
}

/** "About 2.1 in 100 against 1.4 in 100 by 12 months; the 95 % limits overlap." for one comparison without a difference. */
export function overlapSentence({ months, higher, lower }: EqualAgeComparison): string {
  return (
    `${higher.group} and ${lower.group} by ${months} months: about ${share(higher)}, against ` +
    `${share(lower)}. The 95 % limits overlap, so at this age alone it cannot be told which of them fails more.`
  );
}

function share({ estimate: { probability, lower, upper, failures, atRisk } }: EqualAgeComparison["higher"]): string {
  const counts = `${grouped(failures)} ${failures === 1 ? "failure" : "failures"}, ${grouped(atRisk)} packs at risk`;
  return `${inHundred(probability)} (95 % limits ${inHundredBetween(lower, upper)}; ${counts})`;
}

function widestGapPerRevision(apart: readonly EqualAgeComparison[]): EqualAgeComparison[] {
  const widest = new Map<string, EqualAgeComparison>();
  for (const comparison of apart) {
    const known = widest.get(comparison.higher.group);
    if (known === undefined || gapOf(comparison) > gapOf(known)) {
      widest.set(comparison.higher.group, comparison);
    }
  }
  return [...widest.values()].sort(
    (a, b) => Number(b.higher.current) - Number(a.higher.current) || gapOf(b) - gapOf(a),
  );
}

function gapOf({ higher, lower }: EqualAgeComparison): number {
  return higher.estimate.lower - lower.estimate.upper;
}

function howLooked(comparisons: readonly EqualAgeComparison[]): string {
  if (comparisons.length === 0) return "No comparison could be made.";
  const months = [...new Set(comparisons.map((comparison) => comparison.months))].sort((a, b) => a - b);
  const ages =
    months.length === 1 ? `${months[0]} months` : `${months.slice(0, -1).join(", ")} or ${months.at(-1)} months`;
  return comparisons.length === 1
    ? `One pair of revisions was looked at, at the oldest age at which both can be told (${ages}).`
    : `${comparisons.length} pairs of revisions were looked at, each pair once, at the oldest age at which both can be told (${ages}).`;
}
