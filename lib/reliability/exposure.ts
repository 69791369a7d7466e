import { type CalendarDate, daysBetween } from "@/lib/warranty/calendar";

/** The dates of one pack that decide for how long it was watched in use, and how that ended. */
export interface LifeDates {
  /** Day of first use, which is the day of sale; null for a pack not known to be sold. */
  readonly soldOn: CalendarDate | null;
  /** First day on which a failure of this pack would have been recorded; null where that is the day of sale. */
  readonly underObservationFrom: CalendarDate | null;
  /** Nothing told after this day is known. */
  readonly dataDate: CalendarDate;
  /** The decided return: `confirmed` is false where the bench found no fault. */
  readonly failure: { readonly toldOn: CalendarDate; readonly confirmed: boolean } | null;
  /** Day on which a return was told that nobody has decided yet. */
  readonly openReturnToldOn: CalendarDate | null;
  /** Day on which the customer got another pack in its place. */
  readonly replacedOn: CalendarDate | null;
  /** Last day on which a complaint is within cover, that day and the days of grace included. */
  readonly coverEndsOn: CalendarDate | null;
}

export type ExposureStatus = "failed" | "undecided" | "replaced" | "cover-ended" | "running";

export type ExclusionReason =
  | "unsold"
  | "returned-without-sale-date"
  | "return-before-sale"
  | "not-yet-in-use"
  | "observation-not-begun"
  | "ended-before-observation"
  | "serial-twice";

export type Exposure =
  | {
      readonly kind: "exposure";
      /** Age from which the pack was watched, and at which that ended, in days since first use: (entry, exit]. */
      readonly entryDays: number;
      readonly exitDays: number;
      readonly status: ExposureStatus;
    }
  | { readonly kind: "excluded"; readonly reason: ExclusionReason };

/**
 * Answers: for which ages was this pack in use and watched, and did it fail at the end of them?
 *
 * The clock starts at the sale, so time in stock is no time in use. Observation ends on the first of: confirmed failure
 * within cover, a return nobody has decided yet, replacement, end of cover, data date. On one and the same day the first
 * in this order counts. A pack without such a time is excluded with the reason; no date is guessed.
 */
export function exposureOf(pack: LifeDates): Exposure {
  const refusal = contradictionIn(pack);
  if (refusal !== null) return { kind: "excluded", reason: refusal };
  if (pack.soldOn === null) return { kind: "excluded", reason: "unsold" };
  if (notYetInUse(pack.soldOn, pack)) return { kind: "excluded", reason: "not-yet-in-use" };

  const entryDays = entryAgeDays(pack.soldOn, pack.underObservationFrom);
  if (pack.underObservationFrom !== null && entryDays > 0 && pack.underObservationFrom >= pack.dataDate) {
    return { kind: "excluded", reason: "observation-not-begun" };
  }
  const end = firstEnd(pack);
  const exitDays = exitAgeDays(pack.soldOn, end);
  if (exitDays <= entryDays) return { kind: "excluded", reason: "ended-before-observation" };
  return { kind: "exposure", entryDays, exitDays, status: end.status };
}

/**
 * Dates that cannot all be true. A return told before the sale, or of a pack never sold on paper, is a mistake in one
 * of the records: counting it at age 0 or dropping it in silence would both bend the curve, so it is named.
 */
function contradictionIn({ soldOn, failure, openReturnToldOn }: LifeDates): ExclusionReason | null {
  for (const toldOn of [failure?.toldOn ?? null, openReturnToldOn]) {
    if (toldOn === null) continue;
    if (soldOn === null) return "returned-without-sale-date";
    if (toldOn < soldOn) return "return-before-sale";
  }
  return null;
}

/** Sold on the data date or later: no day in use has been seen, unless it came back on the day of sale itself. */
function notYetInUse(soldOn: CalendarDate, pack: LifeDates): boolean {
  if (soldOn > pack.dataDate) return true;
  return soldOn === pack.dataDate && firstEnd(pack).status === "running";
}

/**
 * A pack first watched some time after its sale (records taken over, say) is at risk only from then on: had it failed
 * before, it would not be in the records, so its early survival proves nothing.
 */
function entryAgeDays(soldOn: CalendarDate, underObservationFrom: CalendarDate | null): number {
  return underObservationFrom === null ? 0 : Math.max(0, daysBetween(soldOn, underObservationFrom));
}

interface End {
  readonly on: CalendarDate;
  readonly status: ExposureStatus;
}

function firstEnd(pack: LifeDates): End {
  const ends: (End | null)[] = [
    failureEnd(pack),
    endOn(pack.openReturnToldOn, "undecided"),
    endOn(pack.replacedOn, "replaced"),
    endOn(pack.coverEndsOn, "cover-ended"),
  ];
  let first: End | null = null;
  for (const end of ends) {
    if (end === null || end.on > pack.dataDate) continue;
    if (first === null || end.on < first.on) first = end;
  }
  return first ?? { on: pack.dataDate, status: "running" };
}

/**
 * Only a confirmed failure told within cover is one. No fault found is no failure, and it does not end the exposure
 * either: the pack goes back to its user and keeps ageing, so ending its time would throw away exposure of just those
 * packs that were looked at hardest. A failure after cover is left out because sound packs are no longer watched then:
 * only the broken ones would report.
 */
function failureEnd({ failure, coverEndsOn }: LifeDates): End | null {
  if (failure === null || !failure.confirmed) return null;
  const withinCover = coverEndsOn === null || failure.toldOn <= coverEndsOn;
  return withinCover ? { on: failure.toldOn, status: "failed" } : null;
}

/**
 * An undecided return may turn out to be a failure or not. Its time ends on the day it was told, as still running, and
 * reports count it apart: calling it a failure or letting it run on would both decide the case in advance.
 */
function endOn(on: CalendarDate | null, status: ExposureStatus): End | null {
  return on === null ? null : { on, status };
}

/**
 * A pack that comes back on the very day of its sale is given one day of age, not zero: failures on the first day are
 * the ones a maker most needs to see, and a life of no length could not be counted.
 */
function exitAgeDays(soldOn: CalendarDate, end: End): number {
  const days = daysBetween(soldOn, end.on);
  return end.status === "failed" || end.status === "undecided" ? Math.max(1, days) : days;
}
