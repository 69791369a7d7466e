import type { CalendarDate } from "@/lib/warranty/calendar";
import { lastDayOf, type ReturnSettings } from "./return-settings.schema";

/** Days that people were told, each by the settings of the day on which it began: a later change takes nothing from anybody. */
export interface ToldPeriods {
  readonly objectAfterDecisionDays: number;
  readonly objectAfterHandOverDays: number;
  readonly reopenAfterSolvedDays: number;
}

interface Instants {
  readonly decidedAt: string | null;
  readonly handedBackAt: string | null;
  readonly solvedAt: string | null;
}

export function toldPeriods(
  { decidedAt, handedBackAt, solvedAt }: Instants,
  settingsAt: (at: Date | null) => Pick<ReturnSettings, "objectionDays" | "solvedReopenDays">,
): ToldPeriods {
  const at = (instant: string | null) => settingsAt(instant === null ? null : new Date(instant));
  return {
    objectAfterDecisionDays: at(decidedAt).objectionDays,
    objectAfterHandOverDays: at(handedBackAt).objectionDays,
    reopenAfterSolvedDays: at(solvedAt).solvedReopenDays,
  };
}

/** Last day of an objection: by the letter of the decision or, where it came to that and is later, by the hand-over. Null before a decision. */
export function lastDayToObject(past: Instants, told: ToldPeriods, timeZone: string): CalendarDate | null {
  return latest([
    past.decidedAt === null ? null : lastDayOf(new Date(past.decidedAt), told.objectAfterDecisionDays, timeZone),
    past.handedBackAt === null ? null : lastDayOf(new Date(past.handedBackAt), told.objectAfterHandOverDays, timeZone),
  ]);
}

/** Last day on which what was put right from a distance is opened again; null where nothing was. */
export function lastDayToReopen({ solvedAt }: Instants, told: ToldPeriods, timeZone: string): CalendarDate | null {
  return solvedAt === null ? null : lastDayOf(new Date(solvedAt), told.reopenAfterSolvedDays, timeZone);
}

function latest(days: readonly (CalendarDate | null)[]): CalendarDate | null {
  return days.reduce((last, day) => (last === null || (day !== null && day > last) ? day : last), null);
}
