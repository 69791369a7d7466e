import { type CalendarDate, compareDates, laterOf, plusDays } from "./calendar";
import type { WarrantyPolicy } from "./policy.schema";
import { sayDate, sayDays } from "./say-date";
import { windowEnd } from "./window-end";

export interface ReplacementDelivery {
  /** Day the replacement pack reached the customer. */
  readonly deliveredOn: CalendarDate;
}

export interface ChainEnd {
  readonly endsOn: CalendarDate;
  readonly because: readonly string[];
}

/**
 * The end of cover of a whole chain of replacements, always computed from the end of the first pack: computed from the
 * last pack, errors would add up. Never earlier than the first pack's end. A replacement delivered after the day of
 * the complaint is its remedy, not its ground, and is left out. The order of the list does not matter.
 */
export function chainEnd(
  rootEndsOn: CalendarDate,
  replacements: readonly ReplacementDelivery[],
  toldOn: CalendarDate,
  policy: Pick<WarrantyPolicy, "months" | "leapDay" | "replacementRule" | "minimumDays">,
): ChainEnd {
  const earlier = replacements.map(({ deliveredOn }) => deliveredOn).filter((on) => compareDates(on, toldOn) <= 0);
  const last = earlier.reduce<CalendarDate | null>((latest, on) => (latest === null ? on : laterOf(latest, on)), null);
  const later = replacements.length - earlier.length;
  const leftOut = later === 0 ? [] : ["A replacement delivered after the complaint does not count for it."];
  if (last === null) return { endsOn: rootEndsOn, because: leftOut };

  const { replacementRule, minimumDays } = policy;
  switch (replacementRule) {
    case "remainder":
      return { endsOn: rootEndsOn, because: ["A replacement keeps the time of the first pack.", ...leftOut] };
    case "minimum": {
      const endsOn = laterOf(rootEndsOn, plusDays(last, minimumDays));
      const rule = `A replacement is covered at least ${sayDays(minimumDays)} from its delivery on ${sayDate(last)}`;
      return { endsOn, because: [`${rule}: cover ends on ${sayDate(endsOn)}.`, ...leftOut] };
    }
    case "restart": {
      const endsOn = laterOf(rootEndsOn, windowEnd(last, policy.months, policy.leapDay));
      const rule = `The replacement delivered on ${sayDate(last)} has a full new term`;
      return { endsOn, because: [`${rule}: cover ends on ${sayDate(endsOn)}.`, ...leftOut] };
    }
    default: {
      const never: never = replacementRule;
      return never;
    }
  }
}
