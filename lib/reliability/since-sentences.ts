import type { CalendarDate } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";
import { type CompareBy, compareByWords } from "./compare-by";
import { capital, grouped } from "./plain-share";
import { SIGNAL_RULES_VERSION } from "./rule-version";

/** A group of which an early signal was kept, and the day of the first. */
export interface SignalledGroup {
  readonly by: CompareBy;
  readonly group: string;
  readonly firstOn: CalendarDate;
  /** Under the rules of today as well, and not under older ones alone. */
  readonly byRulesOfToday: boolean;
}

/** Since when: how long such packs have been built, where it is a revision, and when it was first seen that they fail more. */
export function sinceSentence(builtSince: CalendarDate | null, signalled: SignalledGroup | null): string {
  const seen =
    signalled === null
      ? "no early signal of it was kept"
      : `the first early signal of it was kept on ${sayDate(signalled.firstOn)}`;
  return builtSince === null ? `${capital(seen)}.` : `Built since ${sayDate(builtSince)}; ${seen}.`;
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
