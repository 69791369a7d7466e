import { type CalendarDate, compareDates, daysBetween } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";

export interface Calibration {
  readonly outcome: "passed" | "out-of-use";
  readonly calibratedOn: CalendarDate;
  /** Last day on which the instrument may be used; null where it was taken out of use. */
  readonly dueOn: CalendarDate | null;
  readonly uncertaintyPercent: number;
  readonly uncertaintyFloor: number;
}

export type CalibrationStanding =
  | { readonly kind: "usable"; readonly daysLeft: number }
  | { readonly kind: "overdue" | "out-of-use" | "never"; readonly sentence: string };

/**
 * Whether a result of this day may rest on the instrument, from its newest calibration up to that day. A result made with
 * an instrument out of calibration is refused, not marked: a mark is overlooked by whoever reads the verdict alone, and
 * while the pack is on the bench the number can be taken again with a sound instrument. (That equipment out of its
 * period is not used follows ISO/IEC 17025, 6.4; from memory: verify there.)
 */
export function calibrationStanding(
  code: string,
  calibrations: readonly Calibration[],
  day: CalendarDate,
): CalibrationStanding {
  const newest = newestCalibration(calibrations, day);
  if (newest === null) {
    return {
      kind: "never",
      sentence: `No calibration of ${code} is recorded up to this day. Take another instrument.`,
    };
  }
  if (newest.outcome === "out-of-use" || newest.dueOn === null) {
    return {
      kind: "out-of-use",
      sentence: `${code} was taken out of use on ${sayDate(newest.calibratedOn)}. Take another instrument.`,
    };
  }
  const daysLeft = daysBetween(day, newest.dueOn);
  if (daysLeft < 0) {
    return {
      kind: "overdue",
      sentence: `The calibration of ${code} ended on ${sayDate(newest.dueOn)}, so its number proves nothing. Take another instrument, or have this one calibrated.`,
    };
  }
  return { kind: "usable", daysLeft };
}

/** The newest calibration up to and including a day; null where there is none. Of two of one day the later one in the list. */
export function newestCalibration<One extends Calibration>(
  calibrations: readonly One[],
  day: CalendarDate,
): One | null {
  return calibrations.reduce<One | null>((newest, one) => {
    if (compareDates(one.calibratedOn, day) > 0) return newest;
    return newest === null || compareDates(one.calibratedOn, newest.calibratedOn) >= 0 ? one : newest;
  }, null);
}

/** Expanded uncertainty (coverage factor 2) of a value read with the instrument, in the value's unit. */
export function instrumentUncertainty(
  { uncertaintyPercent, uncertaintyFloor }: Pick<Calibration, "uncertaintyPercent" | "uncertaintyFloor">,
  value: number,
): number {
  return (Math.abs(value) * uncertaintyPercent) / 100 + uncertaintyFloor;
}
