import { type CalendarDate, compareDates, daysBetween, plusDays } from "./calendar";
import { type Cover, coverOf, type UnknownReason } from "./cover";
import type { CoverFacts } from "./cover-facts.schema";
import type { WarrantyPolicy } from "./policy.schema";
import { coverByPolicyOfSale, policyForSale } from "./policy-of-sale";
import { provenDays } from "./proven-days";
import { sayDate } from "./say-date";

/** The policy an answer was given under, and all approved ones: another day of sale may bring another promise. */
export interface Promises {
  readonly policy: WarrantyPolicy;
  readonly policies: readonly WarrantyPolicy[];
}

/**
 * What would make the answer another one, in sentences a dealer can act on: a later proof of purchase, an earlier one, a
 * later complaint. Days are found by asking the engine itself, each under the policy of that day, so they cannot disagree with it.
 */
export function whatWouldChange(facts: CoverFacts, promises: Promises, cover: Cover): string[] {
  switch (cover.outcome) {
    case "in-cover":
    case "in-cover-by-grace":
      return [
        `Told after ${sayDate(cover.graceEndsOn)}, the answer would be “${toldLater(facts, promises.policy, cover.graceEndsOn)}”.`,
        ...weakEvidence(cover),
        ...earlierProof(facts, promises, cover),
      ];
    case "outside-makers-guarantee":
      return laterProof(facts, promises, cover.startsOn);
    case "covered-by-field-action":
      return ["Once the field action is closed, the dates decide again."];
    case "cannot-tell-yet":
      return [whatTells(facts, cover.reason)];
    default: {
      const never: never = cover;
      return never;
    }
  }
}

function whatTells({ start }: CoverFacts, reason: UnknownReason): string {
  if (reason === "told-in-future") return "The right day on which the customer told you.";
  return reason === "evidence-conflicts" && provenDays(start).length > 1
    ? "The choice, by name and with its reason, of the proof of purchase that counts."
    : "A proof of purchase that shows the day of delivery to the customer.";
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
function earlierProof(facts: CoverFacts, promises: Promises, cover: Cover): string[] {
  if (cover.evidence === "delivery-receipt") return [];
  const longest = Math.max(...promises.policies.map(({ months }) => months));
  const back = plusDays(facts.toldOn, -366 - 31 * longest);
  const first = firstCovered(facts, promises, back)?.from ?? null;
  if (first === null || first === back) return [];
  const isOut = withProofOf(facts, promises, plusDays(first, -1)).outcome === "outside-makers-guarantee";
  return [
    `A proof of purchase that shows delivery before ${sayDate(first)} would put it outside the maker's guarantee${isOut ? "" : CLEARED_FIRST}.`,
  ];
}

function laterProof(facts: CoverFacts, promises: Promises, startsOn: CalendarDate): string[] {
  const found = firstCovered(facts, promises, startsOn);
  if (found === null) return [];
  const cleared = isIn(withProofOf(facts, promises, found.from)) ? "" : CLEARED_FIRST;
  const until = firstReplacement(facts);
  const notAfter = until === null ? "" : `, and not after ${sayDate(until)}, when it was first replaced,`;
  const before = found.before === null ? "" : `, and before ${sayDate(found.before)}, when a shorter guarantee began,`;
  return [
    `A proof of purchase that shows delivery on or after ${sayDate(found.from)}${before === "" ? notAfter : before} would bring it into cover${cleared}.`,
  ];
}

/** Where the proof and what is on record beside it are further apart than the policy bears, somebody has to ask first. */
const CLEARED_FIRST = ", once what is on record beside it is cleared up";

/** The answer once a proof of purchase shows this day, beside all that is known. */
function withProofOf(facts: CoverFacts, { policies }: Promises, deliveryReceiptOn: CalendarDate): Cover {
  const proven = { ...facts, start: { ...facts.start, deliveryReceiptOn }, fieldActions: [] };
  return coverByPolicyOfSale(proven, policies, deliveryReceiptOn).cover;
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

/** Days of delivery that bring a complaint into cover: from one on, and before another where a shorter promise began on it. */
interface CoveredDays {
  readonly from: CalendarDate;
  readonly before: CalendarDate | null;
}

/**
 * The first days of delivery by which the complaint is in cover, up to the day it was told and the first replacement; null where none
 * is. Halving within the days of one policy, because there a later start never ends earlier.
 */
function firstCovered(facts: CoverFacts, { policies }: Promises, from: CalendarDate): CoveredDays | null {
  const replaced = firstReplacement(facts);
  const to = replaced !== null && compareDates(replaced, facts.toldOn) < 0 ? replaced : facts.toldOn;
  const isCovered = (deliveryReceiptOn: CalendarDate) => {
    const sold = { ...facts, start: { deliveryReceiptOn }, fieldActions: [] };
    return isIn(coverOf(sold, policyForSale(policies, deliveryReceiptOn)));
  };
  if (compareDates(from, to) > 0) return null;
  const changes = policies.map(({ validFrom }) => validFrom).filter((day) => day > from && day <= to);
  const begins = [from, ...new Set(changes.toSorted(compareDates))];
  const lastOf = (place: number) => plusDays(begins[place + 1] ?? plusDays(to, 1), -1);
  const place = begins.findIndex((_, at) => isCovered(lastOf(at)));
  const first = begins[place];
  if (first === undefined) return null;
  const shorter = begins.slice(place + 1).find((day) => !isCovered(day)) ?? null;
  return { from: firstIn(first, lastOf(place), isCovered), before: shorter };
}

/** The first day of a stretch, whose last one answers, from which all answer. */
function firstIn(from: CalendarDate, last: CalendarDate, isCovered: (day: CalendarDate) => boolean): CalendarDate {
  let outside = -1;
  let inside = daysBetween(from, last);
  while (inside - outside > 1) {
    const middle = Math.floor((outside + inside) / 2);
    if (isCovered(plusDays(from, middle))) inside = middle;
    else outside = middle;
  }
  return plusDays(from, inside);
}
