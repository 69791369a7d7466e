import { earlySignals, WATCH_DAYS } from "@/lib/reliability/early-signals";
import { type LifeCell, MOST_SLACK_DAYS } from "@/lib/reliability/life-cell";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import { reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import { MEASURED_MONTHS, measuredFleet, measuredSignals } from "@/lib/reliability/signal-measurements";
import { seededRandom } from "@/tests/support/seeded-random";

const {
  groups: GROUPS,
  packsOfGroup: PACKS,
  failedByAYear: FAILED_BY_A_YEAR,
  daysBetweenLooks: DAYS_BETWEEN_LOOKS,
} = measuredFleet;
/** A group's sales begin so many days after those of the group before, and last so long. */
const APART_DAYS = 45;
const SALES_DAYS = 60;
/** Mean time from told to confirmed; a sum of two exponential times. */
const LAG_DAYS = 25;
const LAST_LOOK = GROUPS * APART_DAYS + SALES_DAYS + WATCH_DAYS + MOST_SLACK_DAYS;
/** The one that fails twice as often where one does: neither the first nor the last. */
const DOUBLED = 7;

export interface History {
  /** Whether any group but a doubled one ever gave a signal. */
  readonly isFalse: boolean;
  /** Days from the first sale of the doubled group to its signal, and failures it had by then; null without one. */
  readonly found: { readonly days: number; readonly failures: number } | null;
}

/**
 * One made-up fleet looked at every other week through the product's own watch, as long as any group is watched: lags are estimated from
 * what is known on the day, what is to be expected from the likes. One history for each number of groups that the chance is shared over,
 * which have to rise: what is no signal where it is shared over few is none where it is shared over more.
 */
export function signalHistory(seed: number, hasDoubled: boolean, shares: readonly number[]): History[] {
  const random = seededRandom(seed);
  const exponential = (mean: number) => -mean * Math.log(1 - random());
  const packs = Array.from({ length: GROUPS * PACKS }, (_, i) => {
    const group = Math.floor(i / PACKS);
    const times = hasDoubled && group === DOUBLED ? measuredFleet.timesAsOften : 1;
    const failsAfter = Math.max(1, Math.ceil(exponential(-WATCH_DAYS / Math.log(1 - FAILED_BY_A_YEAR) / times)));
    const soldOn = Math.floor(group * APART_DAYS + SALES_DAYS * random());
    return { group, soldOn, failsAfter, lag: Math.floor(exponential(LAG_DAYS / 2) + exponential(LAG_DAYS / 2)) };
  });
  const histories = shares.map((): { isFalse: boolean; found: History["found"] } => ({ isFalse: false, found: null }));
  for (let today = 90; today <= LAST_LOOK; today += DAYS_BETWEEN_LOOKS) {
    const open = histories.filter(({ isFalse, found }) => (hasDoubled ? found === null : !isFalse));
    if (open.length === 0) break;
    for (const history of open) {
      const { states } = lookOn(today, packs, () => shares[histories.indexOf(history)] ?? 1);
      const alarms = states.filter(({ alarm }) => alarm);
      for (const { group, observed } of alarms) {
        if (hasDoubled && group === String(DOUBLED))
          history.found = { days: today - DOUBLED * APART_DAYS, failures: observed };
        else history.isFalse = true;
      }
      if (alarms.length === 0) break;
    }
  }
  return histories;
}

interface Pack {
  readonly group: number;
  readonly soldOn: number;
  readonly failsAfter: number;
  readonly lag: number;
}

function lookOn(today: number, packs: readonly Pack[], shareOver: (watchedGroups: number) => number) {
  const lags: { lag: number; longest: number }[] = [];
  const cells = packs.flatMap(({ group, soldOn, failsAfter, lag }): LifeCell[] => {
    const age = today - soldOn;
    if (age <= 0) return [];
    const isKnown = failsAfter + lag <= age;
    if (isKnown) lags.push({ lag, longest: age - failsAfter });
    const kept = { line: "confirmed", stratum: "M", dispatched: true, entryDays: 0, packs: 1 } as const;
    const about = { ...kept, group: String(group), detail: isKnown ? "weak-cell" : null };
    return isKnown
      ? [{ ...about, exitDays: failsAfter, slackDays: Math.min(MOST_SLACK_DAYS, age - failsAfter), status: "failed" }]
      : [{ ...about, exitDays: age, slackDays: 0, status: "running" }];
  });
  const reporting = reportingOf(reportingLag(lags));
  // By dealer, so that every group is watched once: for all faults together.
  return earlySignals([{ by: "dealer", table: { cells, excluded: [] } }], reporting, shareOver);
}

interface Counted {
  readonly sharedOver: number;
  readonly fleets: number;
}

export interface SignalRates {
  readonly fleets: number;
  readonly falseSignals: readonly Counted[];
  readonly found: readonly {
    readonly sharedOver: number;
    readonly within: readonly { readonly months: number; readonly fleets: number }[];
    readonly ever: number;
  }[];
}

/** Histories with seeds from one on: alike ones for the false signals, and others with a doubled group for the delay. */
export function signalRates(firstSeed: number, fleets: number): SignalRates {
  const seeds = Array.from({ length: fleets }, (_, i) => firstSeed + i);
  const sharesOf = (rows: readonly { readonly sharedOver: number }[]) => rows.map(({ sharedOver }) => sharedOver);
  const [ofAlike, ofDoubled] = [sharesOf(measuredSignals.falseSignals), sharesOf(measuredSignals.found)];
  const alike = seeds.map((seed) => signalHistory(seed, false, ofAlike));
  const doubled = seeds.map((seed) => signalHistory(1_000_000 + seed, true, ofDoubled));
  return {
    fleets,
    falseSignals: ofAlike.map((sharedOver, i) => {
      return { sharedOver, fleets: alike.filter((histories) => histories[i]?.isFalse).length };
    }),
    found: ofDoubled.map((sharedOver, i) => {
      const found = doubled.flatMap((histories) => histories[i]?.found ?? []);
      const within = MEASURED_MONTHS.map((months) => {
        return { months, fleets: found.filter(({ days }) => days <= daysAtMonths(months)).length };
      });
      return { sharedOver, within, ever: found.length };
    }),
  };
}
