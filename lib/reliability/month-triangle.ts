import { poissonLimits, poissonRate, type RateEstimate } from "@/lib/stats/poisson-limits";
import type { Limits } from "@/lib/stats/survival-limits";
import { type CalendarDate, calendarDate, plusDays, plusMonths } from "@/lib/warranty/calendar";
import { DAYS_PER_MONTH, daysAtMonths } from "./months-in-service";

const CONFIDENCE = 0.95;

/** So many packs sold in one month with the same life, up to a confirmed failure within cover. */
export interface SaleMonthLife {
  /** `YYYY-MM`. */
  readonly soldIn: string;
  readonly entryDays: number;
  readonly exitDays: number;
  readonly failed: boolean;
  readonly packs: number;
}

export interface MonthCell {
  readonly soldIn: string;
  /** Month in service, counted from 1: ages above `month - 1` up to `month` months. */
  readonly month: number;
  readonly failures: number;
  /** Packs that were in use and watched for some of this month of their life, not failed before. */
  readonly atRisk: number;
  /** Failures in 1,000 pack-months, with exact limits. */
  readonly rate: RateEstimate;
  /** Every pack of the row has come so far, and reports of it have had their time: the cell will not change. */
  readonly isComplete: boolean;
  /** Its lower limit lies above the rate of all other rows at the same age. */
  readonly standsOut: boolean;
}

export interface SaleMonthRow {
  readonly soldIn: string;
  readonly packs: number;
  readonly failures: number;
  /** Failures that the other months of sale would have had at the same ages; null where none of them was watched there. */
  readonly expected: number;
  /** Exact limits of failures over expected. */
  readonly times: Limits | null;
  /** The same limits for the highest of all rows: all of them together hold with 95 % (Bonferroni). */
  readonly timesOfMany: Limits | null;
  readonly cells: readonly MonthCell[];
}

export interface MonthTriangle {
  readonly rows: readonly SaleMonthRow[];
  /** Months in service of the oldest pack. */
  readonly months: number;
}

/**
 * Answers: how often do packs sold in one month fail in each month of their life, and which of that is settled?
 *
 * Rows are months of sale, columns months in service; a cell's failures are divided by the time its packs were watched in
 * that month of their life, with exact Poisson limits. Within a column packs are equally old, so rows compare there.
 *
 * @param lagDays days within which 95 of 100 returns reach us: a cell is complete only that much after its last pack has
 * passed it. Sorted by month of sale. Empty without lives.
 */
export function monthTriangle(lives: readonly SaleMonthLife[], dataDate: CalendarDate, lagDays: number): MonthTriangle {
  const months = lives.reduce((most, { exitDays }) => Math.max(most, Math.ceil(exitDays / DAYS_PER_MONTH)), 0);
  const bySale = new Map<string, SaleMonthLife[]>();
  for (const life of lives) {
    const its = bySale.get(life.soldIn) ?? [];
    bySale.set(life.soldIn, its);
    its.push(life);
  }
  const rows = [...bySale]
    .map(([soldIn, its]) => ({
      soldIn,
      packs: its.reduce((sum, { packs }) => sum + packs, 0),
      sums: sumsOf(its, months),
    }))
    .sort((a, b) => (a.soldIn < b.soldIn ? -1 : 1));
  const all = Array.from({ length: months }, (_, i) => ({
    failures: rows.reduce((sum, row) => sum + (row.sums[i]?.failures ?? 0), 0),
    packMonths: rows.reduce((sum, row) => sum + (row.sums[i]?.packMonths ?? 0), 0),
  }));
  return {
    months,
    rows: rows.map(({ soldIn, packs, sums }) => {
      const lastSale = plusDays(plusMonths(calendarDate(`${soldIn}-01`), 1), -1);
      let [failures, expected] = [0, 0];
      const cells = sums.flatMap((own, i): MonthCell[] => {
        if (own.packMonths === 0) return [];
        const others = all[i];
        const otherMonths = (others?.packMonths ?? 0) - own.packMonths;
        const othersRate = otherMonths > 1e-9 ? ((others?.failures ?? 0) - own.failures) / otherMonths : null;
        const rate = poissonRate(own.failures, own.packMonths / 1000);
        if (othersRate !== null) {
          failures += own.failures;
          expected += othersRate * own.packMonths;
        }
        const passedOn = plusDays(lastSale, Math.ceil(daysAtMonths(i + 1)) + lagDays);
        return [
          {
            soldIn,
            month: i + 1,
            failures: own.failures,
            atRisk: own.atRisk,
            rate,
            isComplete: passedOn <= dataDate,
            standsOut: othersRate !== null && rate.lower > othersRate * 1000,
          },
        ];
      });
      const limits = poissonLimits(failures, CONFIDENCE);
      const ofMany = poissonLimits(failures, 1 - (1 - CONFIDENCE) / rows.length);
      const over = ({ lower, upper }: Limits) =>
        expected > 0 ? { lower: lower / expected, upper: upper / expected } : null;
      return { soldIn, packs, failures, expected, times: over(limits), timesOfMany: over(ofMany), cells };
    }),
  };
}

interface CellSum {
  failures: number;
  atRisk: number;
  packMonths: number;
}

function sumsOf(lives: readonly SaleMonthLife[], months: number): CellSum[] {
  const sums = Array.from({ length: months }, (): CellSum => ({ failures: 0, atRisk: 0, packMonths: 0 }));
  for (const { entryDays, exitDays, failed, packs } of lives) {
    for (const [i, sum] of sums.entries()) {
      const days = Math.min(exitDays, daysAtMonths(i + 1)) - Math.max(entryDays, daysAtMonths(i));
      if (days <= 0) continue;
      sum.atRisk += packs;
      sum.packMonths += (packs * days) / DAYS_PER_MONTH;
      if (failed && exitDays <= daysAtMonths(i + 1)) sum.failures += packs;
    }
  }
  return sums;
}
