import { type CalendarDate, daysBetween, plusDays } from "./calendar";
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
        `Told after ${sayDate(cover.graceEndsOn)}, the answer would be “outside the maker's guarantee”.`,
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
  const first = firstCovered(facts, policy, back, facts.toldOn);
  if (first === null || first === back) return [];
  return [
    `A proof of purchase that shows delivery before ${sayDate(first)} would put it outside the maker's guarantee.`,
  ];
}

function laterProof(facts: CoverFacts, policy: WarrantyPolicy, startsOn: CalendarDate): string[] {
  const first = firstCovered(facts, policy, startsOn, facts.toldOn);
  if (first === null) return [];
  return [`A proof of purchase that shows delivery on or after ${sayDate(first)} would bring it into cover.`];
}

/** The first day of delivery from which the complaint is in cover; halving, because a later start never ends earlier. */
function firstCovered(
  facts: CoverFacts,
  policy: WarrantyPolicy,
  from: CalendarDate,
  to: CalendarDate,
): CalendarDate | null {
  // Replacements and stays count as they are; whether they fit the imagined start is not the question here.
  const isCovered = (days: number) => {
    const start = { deliveryReceiptOn: plusDays(from, days) };
    const { outcome } = coverOf({ ...facts, start, replacements: [], fieldActions: [] }, policy);
    return outcome === "in-cover" || outcome === "in-cover-by-grace";
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
