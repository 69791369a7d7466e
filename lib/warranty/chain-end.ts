import { type Absence, stopTheClock } from "./absences";
import { type CalendarDate, compareDates, laterOf, plusDays } from "./calendar";
import type { WarrantyPolicy } from "./policy.schema";
import { sayDate, sayDays, sayMonths } from "./say-date";
import { windowEnd } from "./window-end";

export interface ReplacementDelivery {
  /** Day the replacement pack reached the customer. */
  readonly deliveredOn: CalendarDate;
}

export interface ChainEnd {
  readonly endsOn: CalendarDate;
  readonly because: readonly string[];
}

interface Chain {
  readonly startsOn: CalendarDate;
  /** End of the first pack's own term. */
  readonly rootEndsOn: CalendarDate;
  readonly replacements: readonly ReplacementDelivery[];
  readonly absences: readonly Absence[];
  readonly toldOn: CalendarDate;
}

type ChainTerms = Pick<
  WarrantyPolicy,
  "months" | "leapDay" | "replacementRule" | "minimumDays" | "minimumMonths" | "clockStop"
>;

/**
 * The end of cover of a whole chain of replacements, always computed from the end of the first pack: computed from the
 * last pack, errors would add up. Never earlier than the first pack's end. A replacement delivered after the day of
 * the complaint is its remedy, not its ground, and is left out. The order of the list does not matter. Where the policy
 * stops the clock, the stays out of the customer's hands are added to whichever term they fall into.
 */
export function chainEnd(chain: Chain, policy: ChainTerms): ChainEnd {
  const { replacements, toldOn } = chain;
  const earlier = replacements.map(({ deliveredOn }) => deliveredOn).filter((on) => compareDates(on, toldOn) <= 0);
  const last = earlier.reduce<CalendarDate | null>((latest, on) => (latest === null ? on : laterOf(latest, on)), null);
  const leftOut =
    replacements.length === earlier.length
      ? []
      : ["A replacement delivered after the complaint does not count for it."];
  const root = stopped(chain.startsOn, chain.rootEndsOn, chain, policy);
  if (last === null) return { endsOn: root.endsOn, because: [...root.because, ...leftOut] };

  const because = (rule: string) => [...root.because, rule, ...leftOut];
  const { replacementRule, minimumDays, minimumMonths } = policy;
  switch (replacementRule) {
    case "remainder":
      return { endsOn: root.endsOn, because: because("A replacement keeps the time of the first pack.") };
    case "minimum": {
      const least = laterOf(plusDays(last, minimumDays), windowEnd(last, minimumMonths, policy.leapDay));
      const endsOn = laterOf(root.endsOn, stopped(last, least, chain, policy).endsOn);
      const rule = `A replacement is covered at least ${sayMinimum(minimumDays, minimumMonths)} from its delivery on ${sayDate(last)}`;
      return { endsOn, because: because(`${rule}: cover ends on ${sayDate(endsOn)}.`) };
    }
    case "restart": {
      const term = windowEnd(last, policy.months, policy.leapDay);
      const endsOn = laterOf(root.endsOn, stopped(last, term, chain, policy).endsOn);
      const rule = `The replacement delivered on ${sayDate(last)} has a full new term`;
      return { endsOn, because: because(`${rule}: cover ends on ${sayDate(endsOn)}.`) };
    }
    default: {
      const never: never = replacementRule;
      return never;
    }
  }
}

function stopped(startsOn: CalendarDate, endsOn: CalendarDate, chain: Chain, policy: ChainTerms): ChainEnd {
  if (policy.clockStop === "never") return { endsOn, because: [] };
  const clock = stopTheClock({ startsOn, endsOn }, chain.absences, chain.toldOn);
  if (clock.days === 0) return { endsOn, because: [] };
  const why = `The customer was without the pack for ${sayDays(clock.days)}, which are added: ${sayDate(clock.endsOn)}.`;
  return { endsOn: clock.endsOn, because: [why] };
}

function sayMinimum(days: number, months: number): string {
  if (months === 0) return sayDays(days);
  return days === 0 ? sayMonths(months) : `${sayDays(days)} or ${sayMonths(months)}, whichever is longer,`;
}
