import type { CalendarDate } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";
import { type CompareBy, compareByWords } from "./compare-by";
import { groupsSharedOver } from "./early-signals";
import { capital, grouped } from "./plain-share";
import { SIGNAL_RULES_VERSION } from "./rule-version";
import { measuredFleet, measuredSignals } from "./signal-measurements";

/** A group of which an early signal was kept, and the day of the first. */
export interface SignalledGroup {
  readonly by: CompareBy;
  readonly group: string;
  readonly firstOn: CalendarDate;
  /** Under the rules of today as well, and not under older ones alone. */
  readonly byRulesOfToday: boolean;
}

/** First and last day of build; `last` null where such packs are still built. */
export interface BuiltSpan {
  readonly first: CalendarDate;
  readonly last: CalendarDate | null;
}

/**
 * Since when: when such packs were built, and when it was first seen that they fail more. Without a signal the day since which signals
 * are kept at all (null where nobody has looked yet), and how seldom one comes.
 */
export function sinceSentence(
  built: BuiltSpan | null,
  signalled: SignalledGroup | null,
  signalsSince: CalendarDate | null,
): string {
  const seen =
    signalled === null
      ? notSignalled(signalsSince)
      : `the first early signal of it was kept on ${sayDate(signalled.firstOn)}`;
  if (built === null) return `${capital(seen)}.`;
  const { first, last } = built;
  const when =
    last === null
      ? `Built since ${sayDate(first)}`
      : first === last
        ? `Built on ${sayDate(first)}`
        : `Built from ${sayDate(first)} to ${sayDate(last)}`;
  return `${when}; ${seen}.`;
}

function notSignalled(since: CalendarDate | null): string {
  if (since === null) return "early signals are not kept yet: nobody has looked for one so far";
  const { found, fleets } = measuredSignals;
  const measured = found.find(({ sharedOver }) => sharedOver === groupsSharedOver(measuredFleet.groups));
  if (measured === undefined)
    throw new Error("no rate was measured for the groups that the measured fleet shares over");
  return `early signals are kept since ${sayDate(since)} and none is of it, which says little: a group that fails ${measuredFleet.timesAsOften} times as often gave one in only ${measured.ever} of ${fleets} made-up fleets`;
}

/** Groups named one by one; more are only counted. */
const NAMED = 5;

/** Early signals kept of groups that do not stand out above; empty where there is none. Whether each still stands is told on the page of signals. */
export function signalsBesideSentence(
  signalled: readonly SignalledGroup[],
  leading: readonly { readonly by: CompareBy; readonly effect: { readonly group: string } }[],
): string {
  const beside = signalled.filter(
    ({ by, group, byRulesOfToday }) =>
      byRulesOfToday && !leading.some((worse) => worse.by === by && worse.effect.group === group),
  );
  if (beside.length === 0) return "";
  const names = beside
    .slice(0, NAMED)
    .map(({ by, group, firstOn }) => `${compareByWords[by].one} ${group} (${sayDate(firstOn)})`);
  const more = beside.length > NAMED ? ` and ${grouped(beside.length - NAMED)} more` : "";
  return `Early signals were kept besides (rules ${SIGNAL_RULES_VERSION}), each with the day of its first: ${names.join(", ")}${more}. A signal says where to look before a comparison can tell.`;
}
