import { type CalendarDate, compareDates, daysBetween, laterOf, plusDays } from "./calendar";
import { civilDateAt } from "./place-of-sale";

/** A stay of the pack out of the customer's hands. */
export interface Absence {
  /** Day the customer handed the pack over. */
  readonly handedOverOn: CalendarDate;
  /** Day the customer had it, or its replacement, back; null while it is still away. */
  readonly backOn: CalendarDate | null;
}

export interface StoppedClock {
  readonly endsOn: CalendarDate;
  /** Days by which the end moved. */
  readonly days: number;
}

/**
 * The end of a period whose clock stands still while the customer is without the pack.
 *
 * Method: the day of handing over is not counted, the day of handing back is, so a pack handed over on the 1st and back
 * on the 11th stood still for 10 days; stays that overlap count once. A stay that begins after the end, as moved so
 * far, revives nothing; one that lasts still, or beyond the day of the complaint, counts up to that day.
 * Common practice, no source; the United Kingdom's Consumer Rights Act 2015, s. 22(6) to (8), stops its own 30 days alike.
 */
export function stopTheClock(
  period: { readonly startsOn: CalendarDate; readonly endsOn: CalendarDate },
  absences: readonly Absence[],
  toldOn: CalendarDate,
): StoppedClock {
  let endsOn = period.endsOn;
  let countedTo = period.startsOn;
  let days = 0;
  const inOrder = absences.toSorted((one, other) => compareDates(one.handedOverOn, other.handedOverOn));
  for (const { handedOverOn, backOn } of inOrder) {
    const from = laterOf(handedOverOn, countedTo);
    const to = backOn === null || compareDates(toldOn, backOn) < 0 ? toldOn : backOn;
    if (compareDates(from, endsOn) > 0 || compareDates(to, from) <= 0) continue;
    const still = daysBetween(from, to);
    days += still;
    endsOn = plusDays(endsOn, still);
    countedTo = to;
  }
  return { endsOn, days };
}

/** Remedies for which the customer was without the pack. */
const AWAY_FOR = ["repair", "replace", "return-as-is"];

/** What is on record of a pack's way back to its user. */
export interface WayBack {
  /** Days on which custody was scanned as leaving the customer first, and as being with the customer again last. */
  readonly leftUserOn: CalendarDate | null;
  readonly backWithUserOn: CalendarDate | null;
  /** Whether the last scan of custody has it elsewhere than with its user. */
  readonly isElsewhere: boolean;
  readonly lodgedOn: CalendarDate;
  /** Day of the move that handed the pack, or its replacement, over. */
  readonly handedBackOn: CalendarDate | null;
  readonly decidedOn: CalendarDate;
}

/**
 * The time a pack was with us, for cover and for exposure alike: from the scan that took it from its user, else from the day
 * of lodging, until the scan that brought it back, else until it was handed back. Where neither is on record and the last scan has
 * it elsewhere it has not ended, whatever was decided; without any scan it ends with the decision, which rather understates it.
 * `lib/data/reliability/life-sql.ts` says the same in SQL. Rule of this house.
 */
export function timeWithUs(way: WayBack): Absence {
  const { leftUserOn, backWithUserOn, isElsewhere, lodgedOn, handedBackOn, decidedOn } = way;
  const untold = isElsewhere ? null : decidedOn;
  return { handedOverOn: leftUserOn ?? lodgedOn, backOn: backWithUserOn ?? handedBackOn ?? untold };
}

/**
 * The stay of an earlier return, if its remedy took the pack from its customer: `timeWithUs` on the calendar of the place of sale.
 */
export function stayWithMaker(past: {
  readonly lodgedAt: Date;
  readonly decided: { readonly remedy: string; readonly decidedAt: Date } | null;
  readonly handedBackAt: Date | null;
  /** Scans that say when the pack left its user first and was back last. */
  readonly leftUserAt?: Date | undefined;
  readonly backWithUserAt?: Date | undefined;
  /** IANA zone of the place of sale: its calendar counts the days, as it does for the complaint. */
  readonly zone: string;
}): Absence[] {
  const { lodgedAt, decided, handedBackAt, leftUserAt, backWithUserAt, zone } = past;
  if (decided === null || !AWAY_FOR.includes(decided.remedy)) return [];
  const dayOf = (at: Date | null | undefined) => (at ? civilDateAt(at, zone) : null);
  return [
    timeWithUs({
      leftUserOn: dayOf(leftUserAt),
      backWithUserOn: dayOf(backWithUserAt),
      // What cover is asked of is an earlier return, whose scans are given as moments alone.
      isElsewhere: false,
      lodgedOn: civilDateAt(lodgedAt, zone),
      handedBackOn: dayOf(handedBackAt),
      decidedOn: civilDateAt(decided.decidedAt, zone),
    }),
  ];
}
