import { binomialSumAtLeast } from "@/lib/stats/binomial-tails";
import { exactAgainstOthers } from "@/lib/stats/exact-against-others";
import { type HazardRatio, hazardRatioOfRiskSets } from "@/lib/stats/hazard-ratio";
import { poissonRate, type RateEstimate } from "@/lib/stats/poisson-limits";
import { type RiskSet, spanWithout } from "@/lib/stats/risk-sets";
import { type CalendarDate, calendarDate, plusDays, plusMonths } from "@/lib/warranty/calendar";
import { DAYS_PER_MONTH, daysAtMonths } from "./months-in-service";

const CONFIDENCE = 0.95;
/** Where the others have failed less often they are no measure yet. Engineering default, no authority. */
export const FEWEST_OF_OTHERS = 3;

/** So many packs sold in one month with the same life, up to a confirmed failure within cover. */
export interface SaleMonthLife {
  /** `YYYY-MM`. */
  readonly soldIn: string;
  readonly model: string;
  readonly entryDays: number;
  readonly exitDays: number;
  readonly failed: boolean;
  /** In use, or back undecided: what is known of its life so far is not the whole of it. */
  readonly goesOn: boolean;
  /** Days from the end of the life to the data date; `MOST_SLACK_DAYS` stands for that many or more. */
  readonly slackDays: number;
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
  /** No pack of the row is still to pass it, or undecided, and reports of all have had their time: the cell will not change. */
  readonly isComplete: boolean;
  /**
   * More settled failures than the other rows at the same age even by the exact lower limit, which allows for those of both. Of
   * several models, by the exact tail of their sum, each model held against its own.
   */
  readonly standsOut: boolean;
}

export interface SaleMonthRow {
  readonly soldIn: string;
  readonly packs: number;
  readonly failures: number;
  /** Those of the failures that were told before the last `settledDays`, at ages at which others were watched till then. */
  readonly settledFailures: number;
  /** First and last month in service whose settled failures these are, all between them counted; null where they are none, or lie apart. */
  readonly comparedMonths: { readonly from: number; readonly upTo: number } | null;
  /** So many the other months of sale would have had in their place. */
  readonly expected: number;
  /** Against the others at equal age; null where they have failed fewer than `FEWEST_OF_OTHERS` times at its ages. */
  readonly against: SaleMonthAgainstOthers | null;
  readonly cells: readonly MonthCell[];
}

/** A month of sale against all others: the failures of both sides are chance, so both are in test and limits. */
export interface SaleMonthAgainstOthers {
  /** Exact mid-p of its number, given all failures of each month in service. */
  readonly p: number;
  /** Times the number of months that could be tested (Bonferroni). */
  readonly adjustedP: number;
  readonly times: HazardRatio;
  /** The same with limits that hold for all months at once with 95 % (Bonferroni). */
  readonly timesOfMany: HazardRatio;
}

export interface MonthTriangle {
  readonly rows: readonly SaleMonthRow[];
  /** Codes of the models of the packs, in order; compared is within each. */
  readonly models: readonly string[];
  /** Days until what happened is known: a cell is settled only so long after its last pack has passed it. */
  readonly lagDays: number;
  /** Months in service of the oldest pack. */
  readonly months: number;
  /** What months of sale are compared by ends so many days before the data date. */
  readonly settledDays: number;
}

/**
 * Answers: how often do packs sold in one month fail in each month of their life, and which of that is settled?
 *
 * Rows are months of sale, columns months in service; a cell's failures are divided by the time its packs were watched in
 * that month of their life, with exact Poisson limits. Within a column packs are equally old, so rows compare there, each model
 * for itself: where the mix of models turns from month to month the months would differ though no pack does.
 *
 * Of a young month a greater part of what failed is not confirmed yet, so rows are held against each other as all was
 * known `settledDays` before the data date to whoever waited for late confirmations.
 *
 * @param lagDays days within which 95 of 100 failures are confirmed, or the longest that is waited for where that is not known: a
 * cell is complete only that much after its last pack has passed it. Sorted by month of sale. Empty without lives.
 */
export function monthTriangle(
  lives: readonly SaleMonthLife[],
  dataDate: CalendarDate,
  lagDays: number,
  settledDays: number,
): MonthTriangle {
  const months = lives.reduce((most, { exitDays }) => Math.max(most, Math.ceil(exitDays / DAYS_PER_MONTH)), 0);
  const models = [...new Set(lives.map(({ model }) => model))].sort();
  const bySale = new Map<string, SaleMonthLife[]>();
  for (const life of lives) {
    const its = bySale.get(life.soldIn) ?? [];
    bySale.set(life.soldIn, its);
    its.push(life);
  }
  const rows = [...bySale]
    .map(([soldIn, its]) => ({
      soldIn,
      its,
      packs: its.reduce((sum, { packs }) => sum + packs, 0),
      sums: sumsOf(its, months),
      settled: models.map((model) =>
        sumsOf(
          cutBackLives(
            its.filter((life) => life.model === model),
            settledDays,
          ),
          months,
        ),
      ),
    }))
    .sort((a, b) => (a.soldIn < b.soldIn ? -1 : 1));
  const all = models.map((_, m) =>
    Array.from({ length: months }, (_, i) => ({
      failures: rows.reduce((sum, { settled }) => sum + (settled[m]?.[i]?.failures ?? 0), 0),
      packMonths: rows.reduce((sum, { settled }) => sum + (settled[m]?.[i]?.packMonths ?? 0), 0),
    })),
  );
  const byModel = models.map((_, m) => rows.map(({ settled }) => settled[m] ?? []));
  const against = rowsAgainstOthers(byModel);
  return {
    ...{ months, models, lagDays, settledDays },
    rows: rows.map(({ soldIn, packs, its, sums, settled }, row) => {
      const lastSale = plusDays(plusMonths(calendarDate(`${soldIn}-01`), 1), -1);
      let [failures, settledFailures, expected] = [0, 0, 0];
      const [shared, alone]: [number[], number[]] = [[], []];
      const cells = sums.flatMap((own, i): MonthCell[] => {
        if (own.packMonths === 0) return [];
        failures += own.failures;
        const sides = models.flatMap((_, m): Side[] => {
          const known = settled[m]?.[i] ?? NOTHING;
          const count = (all[m]?.[i]?.failures ?? 0) - known.failures;
          const exposure = (all[m]?.[i]?.packMonths ?? 0) - known.packMonths;
          const isShared = known.packMonths > 0 && exposure > LEAST_PACK_MONTHS;
          if (known.failures > 0) (isShared ? shared : alone).push(i + 1);
          if (!isShared) return [];
          settledFailures += known.failures;
          expected += (count / exposure) * known.packMonths;
          return [{ own: { count: known.failures, exposure: known.packMonths }, others: { count, exposure } }];
        });
        const passedOn = plusDays(lastSale, Math.ceil(daysAtMonths(i + 1)) + lagDays);
        return [
          {
            soldIn,
            month: i + 1,
            failures: own.failures,
            atRisk: own.atRisk,
            rate: poissonRate(own.failures, own.packMonths / 1000),
            isComplete: passedOn <= dataDate && allHavePassed(its, daysAtMonths(i + 1), lagDays),
            standsOut: isMoreThanOthers(sides),
          },
        ];
      });
      const comparedMonths = spanWithout(shared, alone);
      return {
        soldIn,
        packs,
        failures,
        settledFailures,
        comparedMonths,
        expected,
        against: against[row] ?? null,
        cells,
      };
    }),
  };
}

/** Less is what is left of a difference of equal sums. */
const LEAST_PACK_MONTHS = 1e-9;

/** A row in one month in service beside the others of one model. */
interface Side {
  readonly own: RateCount;
  readonly others: RateCount;
}

/** Failures, and the pack-months watched for them. */
interface RateCount {
  readonly count: number;
  readonly exposure: number;
}

/** Of one model that is where the exact lower limit of the rate ratio is above 1: both ask the same tail. */
function isMoreThanOthers(sides: readonly Side[]): boolean {
  const kinds = sides.map(({ own, others }) => ({
    trials: own.count + others.count,
    p: own.exposure / (own.exposure + others.exposure),
  }));
  const count = sides.reduce((sum, { own }) => sum + own.count, 0);
  return count > 0 && binomialSumAtLeast(count, kinds) < (1 - CONFIDENCE) / 2;
}

/** A set a failure: at one age many failures come, each its own draw. */
function failuresOneByOne(age: number, rows: readonly RateCount[]): RiskSet[] {
  const atRisk = rows.map(({ exposure }) => exposure);
  return rows.flatMap(({ count }, row) => {
    const set = { age, atRisk, failed: rows.map((_, other) => (other === row ? 1 : 0)) };
    return Array.from({ length: count }, () => set);
  });
}

/**
 * Whether all of a month of sale have left an age behind so long ago that nothing told at it is on its way. Ages stand still while a
 * pack is here, so days in use since it passed are no more than days of the calendar.
 */
function allHavePassed(lives: readonly SaleMonthLife[], ageDays: number, lagDays: number): boolean {
  return lives.every(({ exitDays, slackDays, goesOn, failed }) => {
    if (exitDays >= ageDays) return exitDays - ageDays + slackDays >= lagDays;
    return failed || (!goesOn && slackDays >= lagDays);
  });
}

/**
 * In each month in service a failure is one row's with the chance of its share of the pack-months watched: the partial
 * likelihood of the other comparisons, a month of age in place of a day. Many failures share a month, each its own draw.
 */
function rowsAgainstOthers(byModel: readonly (readonly (readonly CellSum[])[])[]): (SaleMonthAgainstOthers | null)[] {
  const sets = byModel.map((rows) =>
    (rows[0] ?? []).flatMap((_, i) => {
      const cells = rows.map((sums) => sums[i] ?? NOTHING);
      return failuresOneByOne(
        i,
        cells.map(({ failures, packMonths }) => ({ count: failures, exposure: packMonths })),
      );
    }),
  );
  const rows = byModel[0] ?? [];
  const exact = exactAgainstOthers(sets, rows.length);
  const tested = rows.map((_, row) => {
    const p = exact[row] ?? null;
    const times = p === null ? null : hazardRatioOfRiskSets(sets, row, CONFIDENCE);
    return times?.kind === "estimate" && times.otherFailures >= FEWEST_OF_OTHERS ? { row, p: p ?? 1, times } : null;
  });
  const many = tested.filter((one) => one !== null).length;
  return tested.map((one) => {
    if (one === null) return null;
    const timesOfMany = hazardRatioOfRiskSets(sets, one.row, 1 - (1 - CONFIDENCE) / many);
    if (timesOfMany.kind === "no-comparison") return null;
    return { p: one.p, adjustedP: Math.min(1, many * one.p), times: one.times, timesOfMany };
  });
}

interface CellSum {
  failures: number;
  atRisk: number;
  packMonths: number;
}

const NOTHING: CellSum = { failures: 0, atRisk: 0, packMonths: 0 };

/** As `cutBack`: what was told in the last `days` is cut off, and with it the time in which it could have been told. */
function cutBackLives(lives: readonly SaleMonthLife[], days: number): SaleMonthLife[] {
  return lives.map((life) =>
    life.slackDays >= days ? life : { ...life, exitDays: life.exitDays + life.slackDays - days, failed: false },
  );
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
