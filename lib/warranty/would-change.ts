import { type CalendarDate, compareDates, daysBetween, plusDays } from "./calendar";
import { type Cover, coverOf } from "./cover";
import type { CoverFacts } from "./cover-facts.schema";
import type { WarrantyPolicy } from "./policy.schema";
import { sayDate } from "./say-date";

/**
 * What would make the answer another one, in sentences a dealer can act on: a later proof of purchase, an earlier one, a
 * later complaint. Days are found by asking the engine itself, so they cannot disagree with it.
 */
export function whatWouldChange(facts: CoverFacts, policy: WarrantyPolicy, cover: Cover): string[] {
  switch (cover.outcome) {
    case "in-cover":
    case "in-cover-by-grace":
      return [
        `Told after ${sayDate(cover.graceEndsOn)}, the answer would be “${toldLater(facts, policy, cover.graceEndsOn)}”.`,
        ...weakEvidence(cover),
        ...earlierProof(facts, policy, cover),
      ];
    case "outside-makers-guarantee":
      return laterProof(facts, policy, cover.startsOn);
    case "covered-by-field-action":
      return ["Once the field action is closed, the dates decide again."];
    case "cannot-tell-yet":
      return cover.reason === "told-in-future"
        ? ["The right day on which the customer told you."]
        : ["A proof of purchase that shows the day of delivery to the customer."];
    default: {
      const never: never = cover;
      return never;
    }
  }
}

/** Nobody is refused on an estimate: past its end the answer is a question. */
function toldLater({ today: _, ...facts }: CoverFacts, policy: WarrantyPolicy, lastDay: CalendarDate): string {
  const { outcome } = coverOf({ ...facts, toldOn: plusDays(lastDay, 1) }, policy);
  return outcome === "cannot-tell-yet"
    ? "cannot tell yet: ask for the proof of purchase"
    : "outside the maker's guarantee";
}

function weakEvidence({ evidence }: Cover): string[] {
  if (evidence === null || evidence === "delivery-receipt") return [];
  return [
    "The start is not proven: a proof of purchase would replace it, and the answer is then given anew beside this one.",
  ];
}

/** The latest day of delivery that, on a proof of purchase, would already be too early for this complaint. */
function earlierProof(facts: CoverFacts, policy: WarrantyPolicy, cover: Cover): string[] {
  if (cover.evidence === "delivery-receipt") return [];
  const back = plusDays(facts.toldOn, -366 - 31 * policy.months);
  const first = firstCovered(facts, policy, back);
  if (first === null || first === back) return [];
  const isOut = withProofOf(facts, policy, plusDays(first, -1)).outcome === "outside-makers-guarantee";
  return [
    `A proof of purchase that shows delivery before ${sayDate(first)} would put it outside the maker's guarantee${isOut ? "" : CLEARED_FIRST}.`,
  ];
}

function laterProof(facts: CoverFacts, policy: WarrantyPolicy, startsOn: CalendarDate): string[] {
  const first = firstCovered(facts, policy, startsOn);
  if (first === null) return [];
  const cleared = isIn(withProofOf(facts, policy, first)) ? "" : CLEARED_FIRST;
  const until = firstReplacement(facts);
  const notAfter = until === null ? "" : `, and not after ${sayDate(until)}, when it was first replaced,`;
  return [
    `A proof of purchase that shows delivery on or after ${sayDate(first)}${notAfter} would bring it into cover${cleared}.`,
  ];
}

/** Where the proof and what is on record beside it are further apart than the policy bears, somebody has to ask first. */
const CLEARED_FIRST = ", once what is on record beside it is cleared up";

/** The answer once a proof of purchase shows this day, beside all that is known. */
function withProofOf(facts: CoverFacts, policy: WarrantyPolicy, deliveryReceiptOn: CalendarDate): Cover {
  return coverOf({ ...facts, start: { ...facts.start, deliveryReceiptOn }, fieldActions: [] }, policy);
}

function isIn({ outcome }: Cover): boolean {
  return outcome === "in-cover" || outcome === "in-cover-by-grace";
}

/** The day of the first replacement: nobody was given the pack after it was replaced. */
function firstReplacement({ replacements = [] }: CoverFacts): CalendarDate | null {
  return replacements.reduce<CalendarDate | null>(
    (first, { deliveredOn }) => (first === null || compareDates(deliveredOn, first) < 0 ? deliveredOn : first),
    null,
  );
}

/**
 * The first day of delivery from which the complaint is in cover, up to the day it was told and the first replacement;
 * halving, because within these a later start never ends earlier.
 */
function firstCovered(facts: CoverFacts, policy: WarrantyPolicy, from: CalendarDate): CalendarDate | null {
  const replaced = firstReplacement(facts);
  const to = replaced !== null && compareDates(replaced, facts.toldOn) < 0 ? replaced : facts.toldOn;
  const isCovered = (days: number) => {
    const start = { deliveryReceiptOn: plusDays(from, days) };
    return isIn(coverOf({ ...facts, start, fieldActions: [] }, policy));
  };
  let outside = -1;
  let inside = daysBetween(from, to);
  if (inside < 0 || !isCovered(inside)) return null;
  while (inside - outside > 1) {
    const middle = Math.floor((outside + inside) / 2);
    if (isCovered(middle)) inside = middle;
    else outside = middle;
  }
  return plusDays(from, inside);
}
