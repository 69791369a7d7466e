import { type CalendarDate, compareDates, daysBetween } from "./calendar";
import { chainEnd } from "./chain-end";
import type { CoverFacts } from "./cover-facts.schema";
import { readHolidayList } from "./holiday-rules";
import { lastDay } from "./last-day";
import type { WarrantyPolicy } from "./policy.schema";
import { sayDate, sayDays, sayMonths } from "./say-date";
import type { Start } from "./start-evidence";
import { windowEnd } from "./window-end";

export type DatedOutcome = "in-cover" | "in-cover-by-grace" | "outside-makers-guarantee";

export interface CoverWindow {
  readonly outcome: DatedOutcome;
  /** Last day of cover, included; grace comes on top. */
  readonly endsOn: CalendarDate;
  readonly graceEndsOn: CalendarDate;
  readonly because: readonly string[];
}

/** The window that a start opens, over the whole chain of replacements, and where in it the complaint falls. */
export function coverWindow(start: Start, facts: CoverFacts, policy: WarrantyPolicy): CoverWindow {
  const { toldOn } = facts;
  const months = start.monthsBefore + policy.months;
  const rootEndsOn = windowEnd(start.countedFrom, months, policy.leapDay);
  const chain = chainEnd(
    {
      startsOn: start.startsOn,
      rootEndsOn,
      replacements: facts.replacements ?? [],
      absences: facts.absences ?? [],
      toldOn,
    },
    policy,
  );
  const graceEndsOn = lastDay(chain.endsOn, policy, readHolidayList(facts.holidays ?? []));
  const outcome = outcomeOf(toldOn, chain.endsOn, graceEndsOn);
  const term = `${sayMonths(months)} from ${sayDate(start.countedFrom)} end on ${sayDate(rootEndsOn)}, that day included.`;
  return {
    outcome,
    endsOn: chain.endsOn,
    graceEndsOn,
    because: [term, ...chain.because, timeliness(outcome, toldOn, chain.endsOn, graceEndsOn)],
  };
}

function outcomeOf(toldOn: CalendarDate, endsOn: CalendarDate, graceEndsOn: CalendarDate): DatedOutcome {
  if (compareDates(toldOn, endsOn) <= 0) return "in-cover";
  return compareDates(toldOn, graceEndsOn) <= 0 ? "in-cover-by-grace" : "outside-makers-guarantee";
}

function timeliness(
  outcome: DatedOutcome,
  toldOn: CalendarDate,
  endsOn: CalendarDate,
  graceEndsOn: CalendarDate,
): string {
  const told = `The customer told the seller on ${sayDate(toldOn)}`;
  if (outcome === "in-cover") return `${told}: in time.`;
  const late = `${sayDays(daysBetween(endsOn, toldOn))} after the end`;
  return outcome === "in-cover-by-grace"
    ? `${told}, ${late}: within the days of grace, which last until ${sayDate(graceEndsOn)}.`
    : `${told}, ${late}: outside the maker's guarantee.`;
}
