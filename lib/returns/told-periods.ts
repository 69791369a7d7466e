import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { isNotOver, lastDayOf, type ReturnSettings } from "./return-settings.schema";

/** Days that people were told, each by the settings of the day on which it began: a later change takes nothing from anybody. */
export interface ToldPeriods {
  readonly objectAfterDecisionDays: number;
  readonly objectAfterHandOverDays: number;
  readonly reopenAfterSolvedDays: number;
}

interface Instants {
  readonly letterGivenOn: CalendarDate | null;
  readonly decidedAt: string | null;
  readonly handedBackAt: string | null;
  readonly solvedAt: string | null;
}

export function toldPeriods(
  { decidedAt, handedBackAt, solvedAt }: Omit<Instants, "letterGivenOn">,
  settingsAt: (at: Date | null) => Pick<ReturnSettings, "objectionDays" | "solvedReopenDays">,
): ToldPeriods {
  const at = (instant: string | null) => settingsAt(instant === null ? null : new Date(instant));
  return {
    objectAfterDecisionDays: at(decidedAt).objectionDays,
    objectAfterHandOverDays: at(handedBackAt).objectionDays,
    reopenAfterSolvedDays: at(solvedAt).solvedReopenDays,
  };
}

/**
 * Last day of an objection. It runs from the day on which the customer got the letter, as many days as held when it was decided, or
 * from the hand-over, at which the customer learns of it at the latest; the later end counts. Null before a decision, and while
 * nobody recorded either: the time has not begun then.
 */
export function lastDayToObject(past: Instants, told: ToldPeriods, timeZone: string): CalendarDate | null {
  if (past.decidedAt === null) return null;
  return latest([
    past.letterGivenOn === null ? null : plusDays(past.letterGivenOn, told.objectAfterDecisionDays),
    past.handedBackAt === null ? null : lastDayOf(new Date(past.handedBackAt), told.objectAfterHandOverDays, timeZone),
  ]);
}

/** Until when, and whether, the customer may object; "open" until the day is over where the dealer is. */
export type TimeToObject =
  /** Nothing is decided that could be objected to. */
  | { readonly kind: "nothing-decided" }
  /** Nobody recorded that the customer got the letter, and nothing is handed over. */
  | { readonly kind: "not-begun"; readonly days: number }
  | { readonly kind: "open" | "over"; readonly until: CalendarDate; readonly letterGivenOn: CalendarDate | null }
  /** Put right from a distance: opened again until then, should it not last. */
  | { readonly kind: "solved"; readonly until: CalendarDate; readonly isOver: boolean };

interface At {
  readonly told: ToldPeriods;
  readonly timeZone: string;
  readonly now: Date;
}

export function timeToObject(past: Instants, { told, timeZone, now }: At): TimeToObject {
  const reopenUntil = lastDayToReopen(past, told, timeZone);
  if (reopenUntil !== null)
    return { kind: "solved", until: reopenUntil, isOver: !isNotOver(reopenUntil, now, timeZone) };
  if (past.decidedAt === null) return { kind: "nothing-decided" };
  const until = lastDayToObject(past, told, timeZone);
  if (until === null) return { kind: "not-begun", days: told.objectAfterDecisionDays };
  const kind = isNotOver(until, now, timeZone) ? "open" : "over";
  return { kind, until, letterGivenOn: past.letterGivenOn };
}

/** Last day on which what was put right from a distance is opened again; null where nothing was. */
export function lastDayToReopen(
  { solvedAt }: Pick<Instants, "solvedAt">,
  told: ToldPeriods,
  timeZone: string,
): CalendarDate | null {
  return solvedAt === null ? null : lastDayOf(new Date(solvedAt), told.reopenAfterSolvedDays, timeZone);
}

function latest(days: readonly (CalendarDate | null)[]): CalendarDate | null {
  return days.reduce((last, day) => (last === null || (day !== null && day > last) ? day : last), null);
}
