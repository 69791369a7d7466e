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
  /** Day on which a return was told that nobody has decided yet; one that lapsed was never looked at and is none. */
  readonly openReturnToldOn: CalendarDate | null;
  /** The first return of any kind, whatever came of it. */
  readonly firstReturn: { readonly toldOn: CalendarDate; readonly outcome: ReturnOutcome } | null;
  /** Times away from its user after which the pack went back to it: from the scan that took it, else lodging, to hand back; to the data date while scans have it elsewhere. */
  readonly withUs: readonly Stay[];
  /** Day on which it left its user for good after a return that confirmed no failure; null where it went back, or is still out there. */
  readonly outOfUseOn: CalendarDate | null;
  /** Day on which the customer got another pack in its place. */
  readonly replacedOn: CalendarDate | null;
  /** Last day on which a complaint is within cover, that day and the days of grace included. */
  readonly coverEndsOn: CalendarDate | null;
}

/** `unclassified`: decided, but the fault stayed unknown. */
export type ReturnOutcome = "confirmed" | "not-confirmed" | "unclassified" | "undecided";

export interface Stay {
  readonly from: CalendarDate;
  readonly until: CalendarDate;
}

export type ExposureStatus = "failed" | "undecided" | "out-of-use" | "replaced" | "cover-ended" | "running";

export type ExclusionReason =
  | "unsold"
  | "returned-without-sale-date"
  | "return-before-sale"
  | "not-yet-in-use"
  | "observation-not-begun"
  | "ended-before-observation"
  | "serial-twice";

interface Life<Status> {
  readonly kind: "exposure";
  /** Age from which the pack was watched, and at which that ended, in days since first use: (entry, exit]. */
  readonly entryDays: number;
  readonly exitDays: number;
  /** Days from the end of the exposure to the data date. */
  readonly slackDays: number;
  readonly status: Status;
}

interface Excluded {
  readonly kind: "excluded";
  readonly reason: ExclusionReason;
}

export type Exposure = Life<ExposureStatus> | Excluded;

/** The same with the first return of any kind as the event. */
export type ReturnExposure = Life<"returned" | "replaced" | "cover-ended" | "running"> | Excluded;

/**
 * Answers: for which ages was this pack in use and watched, and did it fail at the end of them?
 *
 * The clock starts at the sale, so time in stock is no time in use. Observation ends on the first of: confirmed failure
 * within cover, a return nobody has decided yet, the day it left its user for good, replacement, end of cover, data date. On one and the same day the first
 * in this order counts. A pack without such a time is excluded with the reason; no date is guessed.
 */
export function exposureOf(pack: LifeDates): Exposure {
  return observe(pack, [
    failureEnd(pack),
    endOn(openEnd(pack), "undecided"),
    endOn(pack.outOfUseOn, "out-of-use"),
    endOn(pack.replacedOn, "replaced"),
    endOn(pack.coverEndsOn, "cover-ended"),
  ]);
}

/**
 * The same with the first return of any kind within cover as the event, found faulty or not: what the workshop has to
 * cope with, beside what the maker has to answer for.
 */
export function returnExposureOf(pack: LifeDates): ReturnExposure {
  return observe(pack, [returnEnd(pack), endOn(pack.replacedOn, "replaced"), endOn(pack.coverEndsOn, "cover-ended")]);
}

interface End<Status> {
  readonly on: CalendarDate;
  readonly status: Status;
}

function observe<Status>(pack: LifeDates, ends: readonly (End<Status> | null)[]): Life<Status | "running"> | Excluded {
  const { soldOn, underObservationFrom, dataDate } = pack;
  const refusal = contradictionIn(pack);
  if (refusal !== null) return { kind: "excluded", reason: refusal };
  if (soldOn === null) return { kind: "excluded", reason: "unsold" };
  const end = firstEnd(ends, dataDate);
  if (notYetInUse(soldOn, dataDate, end.status)) return { kind: "excluded", reason: "not-yet-in-use" };

  const entryDays = entryAgeDays(soldOn, underObservationFrom);
  if (underObservationFrom !== null && entryDays > 0 && underObservationFrom >= dataDate) {
    return { kind: "excluded", reason: "observation-not-begun" };
  }
  const exitDays = exitAgeDays(soldOn, end, pack.withUs);
  if (exitDays <= entryDays) return { kind: "excluded", reason: "ended-before-observation" };
  return { kind: "exposure", entryDays, exitDays, slackDays: daysBetween(end.on, dataDate), status: end.status };
}

/**
 * Dates that cannot all be true. A return told before the sale, or of a pack never sold on paper, is a mistake in one
 * of the records: counting it at age 0 or dropping it in silence would both bend the curve, so it is named.
 */
function contradictionIn({ soldOn, failure, openReturnToldOn, firstReturn }: LifeDates): ExclusionReason | null {
  for (const toldOn of [failure?.toldOn ?? null, openReturnToldOn, firstReturn?.toldOn ?? null]) {
    if (toldOn === null) continue;
    if (soldOn === null) return "returned-without-sale-date";
    if (toldOn < soldOn) return "return-before-sale";
  }
  return null;
}

/** Sold on the data date or later: no day in use has been seen, unless it came back on the day of sale itself. */
function notYetInUse(soldOn: CalendarDate, dataDate: CalendarDate, endStatus: unknown): boolean {
  return soldOn > dataDate || (soldOn === dataDate && endStatus === "running");
}

/**
 * A pack first watched some time after its sale (records taken over, say) is at risk only from then on: had it failed
 * before, it would not be in the records, so its early survival proves nothing.
 */
function entryAgeDays(soldOn: CalendarDate, underObservationFrom: CalendarDate | null): number {
  return underObservationFrom === null ? 0 : Math.max(0, daysBetween(soldOn, underObservationFrom));
}

function firstEnd<Status>(ends: readonly (End<Status> | null)[], dataDate: CalendarDate): End<Status | "running"> {
  let first: End<Status> | null = null;
  for (const end of ends) {
    if (end === null || end.on > dataDate) continue;
    if (first === null || end.on < first.on) first = end;
  }
  return first ?? { on: dataDate, status: "running" };
}

/**
 * Only a confirmed failure told within cover is one. No fault found is no failure, and it does not end the exposure
 * either: the pack goes back to its user and keeps ageing, so ending its time would throw away exposure of just those
 * packs that were looked at hardest. A failure after cover is left out because sound packs are no longer watched then:
 * only the broken ones would report.
 */
function failureEnd({ failure, coverEndsOn }: LifeDates): End<"failed"> | null {
  if (failure === null || !failure.confirmed) return null;
  const withinCover = coverEndsOn === null || failure.toldOn <= coverEndsOn;
  return withinCover ? { on: failure.toldOn, status: "failed" } : null;
}

/** A return told after the end of cover is goodwill: left out for the reason given above, and counted apart. */
function returnEnd({ firstReturn, coverEndsOn }: LifeDates): End<"returned"> | null {
  if (firstReturn === null) return null;
  const withinCover = coverEndsOn === null || firstReturn.toldOn <= coverEndsOn;
  return withinCover ? { on: firstReturn.toldOn, status: "returned" } : null;
}

/**
 * An undecided return may turn out to be a failure or not. Its time ends on the day it was told, as still running, and
 * reports count it apart: calling it a failure or letting it run on would both decide the case in advance.
 */
function endOn<Status>(on: CalendarDate | null, status: Status): End<Status> | null {
  return on === null ? null : { on, status };
}

/** With a failure confirmed later the pack is known to have run on until then, and the open return ends nothing. */
function openEnd({ failure, openReturnToldOn }: LifeDates): CalendarDate | null {
  const ranOn = failure?.confirmed === true && openReturnToldOn !== null && failure.toldOn > openReturnToldOn;
  return ranOn ? null : openReturnToldOn;
}

/**
 * Decisions after which the pack does not go back to its user: with another pack or the money for it, kept apart, or disposed of.
 * Without a confirmed failure such a pack has not failed, and it can no longer fail in use: letting it run on would count
 * packs on a scrap heap as survivors.
 */
export const remediesOutOfUse = ["replace", "refund", "dispose", "isolate"] as const;

/** Decisions after which the same pack goes back to its user: it was not in use while it was with us. */
export const remediesBackInUse = ["repair", "return-as-is"] as const;

/** The same where scans, or the move that handed it back, say that it had left its user: many of these are decided without seeing the pack. */
export const remediesBackIfSent = ["refuse", "redirect"] as const;

/** Places from which a pack does not come back to its user; lost ones count so until they are found. */
export const placesOutOfUse = ["recycler", "specialist", "supplier", "missing"] as const;

/** With these the customer is left without a pack: the place, too, is watched no longer. */
export const remediesWithoutPack = ["refund", "dispose"] as const;

/**
 * A pack that comes back on the very day of its sale is given one day of age, not zero: failures on the first day are
 * the ones a maker most needs to see, and a life of no length could not be counted.
 */
function exitAgeDays(soldOn: CalendarDate, end: End<unknown>, withUs: readonly Stay[]): number {
  const days = daysBetween(soldOn, end.on) - deadDays(withUs, end.on);
  return end.status === "failed" || end.status === "undecided" || end.status === "returned" ? Math.max(1, days) : days;
}

/**
 * Days the pack lay in the workshop before the end of its exposure. It could not fail in use there, so they are taken
 * off its age: counting them would make packs that were looked at and handed back seem to last longer.
 */
function deadDays(withUs: readonly Stay[], endOn: CalendarDate): number {
  return withUs.reduce((sum, { from, until }) => {
    const last = until < endOn ? until : endOn;
    return sum + Math.max(0, daysBetween(from, last));
  }, 0);
}
