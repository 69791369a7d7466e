import { UTCDate } from "@date-fns/utc";
import { getISOWeek, getISOWeekYear } from "date-fns";
import { makeSerial } from "@/lib/packs/serial";
import { type CalendarDate, calendarDate, daysBetween, plusDays } from "@/lib/warranty/calendar";
import type { ProductionStretch, RevisionPlan } from "./revisions";
import type { StoryCalendar } from "./story-calendar";

/** A pack as it leaves the line, before it is tested, sent or sold. */
export interface BuiltPack {
  readonly serial: string;
  /** The serial it bears in the story as written: what chance brings it hangs on this, whatever the data date. */
  readonly storySerial: string;
  readonly modelCode: string;
  readonly revisionCode: string;
  readonly builtOn: CalendarDate;
}

/** Number of packs that the plans add up to; other sizes scale every stretch. */
export function plannedPacks(plans: readonly RevisionPlan[]): number {
  return plans.flatMap((plan) => plan.stretches).reduce((sum, stretch) => sum + stretch.packs, 0);
}

/** Builds every pack of every revision, in order of building, each with a serial of its own. */
export function buildPacks(plans: readonly RevisionPlan[], scale: number, at: StoryCalendar): BuiltPack[] {
  const unnamed = plans.flatMap((plan) =>
    plan.stretches.flatMap((stretch) =>
      daysOfStretch(stretch, scale).map((builtOn) => ({ revisionCode: plan.code, builtOn })),
    ),
  );
  unnamed.sort((a, b) => (a.builtOn < b.builtOn ? -1 : a.builtOn > b.builtOn ? 1 : 0));
  const sequences = new Map<string, number>();
  return unnamed.map(({ revisionCode, builtOn }) => {
    const modelCode = revisionCode.slice(0, 2);
    const storyWeek = isoWeekOf(builtOn);
    const key = `${modelCode}${storyWeek.buildYear}-${storyWeek.buildWeek}`;
    const sequence = (sequences.get(key) ?? 0) + 1;
    sequences.set(key, sequence);
    return {
      serial: makeSerial({ model: modelCode, ...isoWeekOf(at(builtOn)), sequence }),
      storySerial: makeSerial({ model: modelCode, ...storyWeek, sequence }),
      modelCode,
      revisionCode,
      builtOn: at(builtOn),
    };
  });
}

/** Days of the story. */
function daysOfStretch(stretch: ProductionStretch, scale: number): CalendarDate[] {
  const from = calendarDate(stretch.from);
  const span = daysBetween(from, calendarDate(stretch.to)) + 1;
  const workingDays = Array.from({ length: span }, (_, i) => plusDays(from, i)).filter(isWorkingDay);
  const count = Math.round(stretch.packs * scale);
  return Array.from({ length: count }, (_, i) => {
    return workingDays[Math.floor((i * workingDays.length) / count)] ?? from;
  });
}

function isWorkingDay(date: CalendarDate): boolean {
  const day = new UTCDate(`${date}T00:00:00Z`).getUTCDay();
  return day !== 0 && day !== 6;
}

function isoWeekOf(date: CalendarDate): { buildYear: number; buildWeek: number } {
  const day = new UTCDate(`${date}T00:00:00Z`);
  return { buildYear: getISOWeekYear(day), buildWeek: getISOWeek(day) };
}
