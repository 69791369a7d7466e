import type { StartEvidence, WarrantyPolicy } from "./policy.schema";
import { sayDate, sayDays, sayMonths } from "./say-date";

export const evidenceWords: Readonly<Record<StartEvidence, string>> = {
  "delivery-receipt": "a proof of purchase",
  "registration-before-complaint": "a registration made before the complaint",
  "statement-at-complaint": "a statement made with the complaint, without proof",
  "distributor-sale": "an estimate from the distributor's sale",
  "dispatch-plus-shelf-limit": "the dispatch and the limit to the time on the shelf",
};

/** One version of the guarantee in sentences, so that nobody has to read its fields. */
export function policyInWords(policy: WarrantyPolicy): string[] {
  return [
    `For packs sold from ${sayDate(policy.validFrom)} the maker's guarantee lasts ${sayMonths(policy.months)}, the last day included.`,
    grace(policy),
    policy.leapDay === "march-1"
      ? "A term that starts on 29 February ends on 1 March in a year without that day."
      : "A term that starts on 29 February ends on 28 February in a year without that day.",
    replacement(policy),
    policy.clockStop === "while-with-us"
      ? "Days on which the customer is without the pack are added to the time."
      : "Days on which the customer is without the pack are not added to the time.",
    policy.stockAgeCapMonths === null
      ? "Between maker and dealer there is no limit to the time on the shelf."
      : `Between maker and dealer the time starts ${sayMonths(policy.stockAgeCapMonths)} after dispatch at the latest; that never shortens the customer's time.`,
    `Days of delivery that differ by no more than ${sayDays(policy.evidenceGapDays)} are read in the customer's favour; beyond that somebody asks.`,
    `The start is taken from the best of: ${policy.evidenceOrder.map((evidence) => evidenceWords[evidence]).join("; ")}.`,
  ];
}

function grace({ graceDays, weekendEnd }: WarrantyPolicy): string {
  const days = graceDays === 0 ? "There are no days of grace" : `Another ${sayDays(graceDays)} count as grace`;
  return weekendEnd === "next-working-day"
    ? `${days}; a last day on a Saturday, a Sunday or a public holiday of the place of sale lasts until the next working day.`
    : `${days}, and a last day on a weekend stays where it falls.`;
}

function replacement({ replacementRule, minimumDays, minimumMonths }: WarrantyPolicy): string {
  switch (replacementRule) {
    case "remainder":
      return "A replacement is covered for the rest of the first pack's time.";
    case "minimum": {
      const least = [
        ...(minimumDays > 0 || minimumMonths === 0 ? [sayDays(minimumDays)] : []),
        ...(minimumMonths > 0 ? [sayMonths(minimumMonths)] : []),
      ].join(" or ");
      return `A replacement is covered for the rest of the first pack's time, and at least ${least} from its delivery.`;
    }
    case "restart":
      return "A replacement is covered for a full new term from its delivery.";
    default: {
      const never: never = replacementRule;
      return never;
    }
  }
}
