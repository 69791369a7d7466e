import { csvTable } from "@/lib/settlement/csv-table";
import { sayDays } from "@/lib/warranty/say-date";
import { CALLED_BELOW } from "./compare-strata";
import { FEWEST_OF_OTHERS, type MonthTriangle, type SaleMonthRow } from "./month-triangle";
import { grouped, sayP } from "./plain-share";
import type { LagEstimate } from "./reporting-lag";
import { COUNTING_RULES_VERSION } from "./rule-version";
import { ratioBetween, sayRatio } from "./worse-sentences";

/** The answer of the page: which month of sale failed most against the others at equal age, and what that is worth. */
export function saleMonthSentence({ rows, settledDays }: MonthTriangle): string {
  const told = rows.flatMap(({ soldIn, against }) => (against === null ? [] : [{ soldIn, ...against }]));
  if (told.length === 0)
    return `No month of sale can be held against the others yet: that takes ${FEWEST_OF_OTHERS} failures of the others at ages that packs of both have reached${withoutLatest(settledDays)}.`;
  const more = told.filter(({ times }) => times.failures > 0 && (times.ratio ?? 2) > 1);
  const [worst] = more.toSorted((a, b) => a.p - b.p);
  if (worst === undefined)
    return `No month of sale stands out: none that can be held against the others has more failures than they at equal age${withoutLatest(settledDays)}.`;
  const { failures, otherFailures, ratio } = worst.times;
  const have = `${grouped(failures)} ${failures === 1 ? "failure" : "failures"} at ages that others have reached too, the others ${grouped(otherFailures)}${withoutLatest(settledDays)}`;
  const times = ratio === null ? "" : `${sayRatio(ratio)} times as often at equal age, `;
  const limits = `${times}95 % limits for all ${grouped(told.length)} months at once ${ratioBetween(worst.timesOfMany)}; exact test, adjusted for them: ${sayP(worst.adjustedP)}`;
  if (worst.adjustedP >= CALLED_BELOW)
    return `No month of sale stands out: packs sold in ${worst.soldIn} have ${have} (${limits}), and no other month stands out more.`;
  return `Packs sold in ${worst.soldIn} have ${have} (${limits}). It is the one that stands out most of ${grouped(told.length)}, and the highest of many looks higher than it is.`;
}

/** Not all of what was told lately is confirmed, and of young months it is the greater part. */
function withoutLatest(settledDays: number): string {
  return settledDays === 0 ? "" : `, what was told in the last ${sayDays(settledDays)} left out on both sides`;
}

/** When a cell counts as settled, and what months are compared by. */
export function settledSentence(lag: LagEstimate, { settledDays, lagDays }: MonthTriangle): string {
  const compared = `Months of sale are compared, and thick edges drawn, without what was told in the last ${sayDays(settledDays)}, since of young months more is unconfirmed than of old ones: a comparison with it would call the old ones worse.`;
  const undecided = ", and while a return of a pack that had not passed it is not decided";
  return lag.kind === "no-lag"
    ? `How late failures are confirmed cannot be estimated yet: a cell is hatched until ${sayDays(lagDays)} after its last pack has passed it${undecided}. ${compared}`
    : `95 of 100 failures are confirmed within ${sayDays(lagDays)} of being told. The numbers in the cells are not corrected for that: a cell is hatched until so long after its last pack has passed it${undecided}. ${compared}`;
}

export const howToReadTriangle =
  "Follow a row to see packs sold in one month grow older; go down a column to compare months of sale at the same age. The number is of confirmed failures, the darker the more often. Hatched: not all packs of that month have come so far, a return of one of them waits for a decision, or reports of them may still be on their way, so the cell can change. A thick edge: of what is long enough ago to be confirmed, more than the other months of sale at that age even by the exact lower limit (of several models, each held against its own), which at most one cell in forty does by chance.";

/** The cells as CSV: one row a cell, data date and counting rules in every row, rates in 1,000 pack-months with exact limits. */
export function monthTriangleCsv(
  about: { readonly dataDate: string; readonly of: string },
  rows: readonly SaleMonthRow[],
) {
  const data = rows.flatMap(({ cells }) =>
    cells.map(({ soldIn, month, failures, atRisk, rate, isComplete, standsOut }) => [
      about.dataDate,
      COUNTING_RULES_VERSION,
      about.of,
      soldIn,
      month,
      failures,
      atRisk,
      rate.exposure * 1000,
      rate.rate,
      rate.lower,
      rate.upper,
      isComplete ? "yes" : "no",
      standsOut ? "yes" : "no",
    ]),
  );
  return csvTable(fields, data);
}

const fields = [
  "data date",
  "counting rules",
  "packs of",
  "sold in",
  "month in service",
  "confirmed failures",
  "packs at risk",
  "pack-months",
  "failures in 1000 pack-months",
  "lower 95 % limit",
  "upper 95 % limit",
  "complete",
  "more than the others of that age by the exact lower limit, as settled",
];

/**
 * Each month of sale against the others as CSV: one row a month, data date and counting rules in every row; empty where the others
 * have failed too seldom to be a measure.
 */
export function monthComparisonCsv(
  about: { readonly dataDate: string; readonly of: string },
  { rows, settledDays }: MonthTriangle,
): string {
  const data = rows.map(({ soldIn, packs, failures, settledFailures, expected, against }) => {
    const counts = [soldIn, packs, failures, settledDays, settledFailures, expected];
    const compared =
      against === null
        ? []
        : [against.times, against.timesOfMany].flatMap(({ ratio, lower, upper }) => [ratio, lower, upper]);
    const numbers = [0, 1, 2, 4, 5].map((i) => finiteOrEmpty(compared[i]));
    const tests = [against?.p ?? "", against?.adjustedP ?? ""];
    return [about.dataDate, COUNTING_RULES_VERSION, about.of, ...counts, ...numbers, ...tests];
  });
  return csvTable(comparedFields, data);
}

/** A ratio or limit without end (only this month failed) has no number. */
function finiteOrEmpty(value: number | null | undefined): number | "" {
  return value == null || !Number.isFinite(value) ? "" : value;
}

const comparedFields = [
  "data date",
  "counting rules",
  "packs of",
  "sold in",
  "packs in use",
  "confirmed failures",
  "days left out before the data date",
  "failures held against the others",
  "expected of those",
  "times as often as the others at equal age",
  "lower 95 % limit",
  "upper 95 % limit",
  "lower 95 % limit for all months at once",
  "upper 95 % limit for all months at once",
  "p of the exact test",
  "p adjusted for all months",
];
