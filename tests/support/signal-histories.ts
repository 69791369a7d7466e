import { earlySignals, groupsSharedOver, WATCH_DAYS } from "@/lib/reliability/early-signals";
import { type LifeCell, MOST_SLACK_DAYS } from "@/lib/reliability/life-cell";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import { reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import { measuredFleet, measuredSignals } from "@/lib/reliability/signal-measurements";
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
 * what is known on the day, what is to be expected from the likes. False signals are counted with the chance shared over its groups, a doubled one is looked for
 * with that shared over as many as the product does.
 */
export function signalHistory(seed: number, hasDoubled: boolean): History {
  const random = seededRandom(seed);
  const exponential = (mean: number) => -mean * Math.log(1 - random());
  const packs = Array.from({ length: GROUPS * PACKS }, (_, i) => {
    const group = Math.floor(i / PACKS);
    const times = hasDoubled && group === DOUBLED ? measuredFleet.timesAsOften : 1;
    const failsAfter = Math.max(1, Math.ceil(exponential(-WATCH_DAYS / Math.log(1 - FAILED_BY_A_YEAR) / times)));
    const soldOn = Math.floor(group * APART_DAYS + SALES_DAYS * random());
    return { group, soldOn, failsAfter, lag: Math.floor(exponential(LAG_DAYS / 2) + exponential(LAG_DAYS / 2)) };
  });
  let isFalse = false;
  for (let today = 90; today <= LAST_LOOK; today += DAYS_BETWEEN_LOOKS) {
    // False signals: does the whole chance, shared over these groups alone, hold? A doubled one: at the product's own share of it.
    const { states } = lookOn(today, packs, hasDoubled ? groupsSharedOver : () => GROUPS);
    for (const { group, alarm, observed } of states) {
      if (!alarm) continue;
      if (hasDoubled && group === String(DOUBLED))
        return { isFalse, found: { days: today - DOUBLED * APART_DAYS, failures: observed } };
      isFalse = true;
    }
    if (isFalse && !hasDoubled) break;
  }
  return { isFalse, found: null };
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

export interface SignalRates {
  readonly fleets: number;
  readonly withFalseSignal: number;
  readonly foundWithin: readonly { readonly months: number; readonly fleets: number }[];
  readonly badFound: number;
}

/** Histories with seeds from one on: alike ones for the false signals, and others with a doubled group for the delay. */
export function signalRates(firstSeed: number, fleets: number): SignalRates {
  const seeds = Array.from({ length: fleets }, (_, i) => firstSeed + i);
  const alike = seeds.map((seed) => signalHistory(seed, false));
  const found = seeds.flatMap((seed) => signalHistory(1_000_000 + seed, true).found ?? []);
  return {
    fleets,
    withFalseSignal: alike.filter(({ isFalse }) => isFalse).length,
    foundWithin: measuredSignals.foundWithin.map(({ months }) => {
      return { months, fleets: found.filter(({ days }) => days <= daysAtMonths(months)).length };
    }),
    badFound: found.length,
  };
}
