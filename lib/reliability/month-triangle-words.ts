import { csvTable } from "@/lib/settlement/csv-table";
import type { MonthTriangle, SaleMonthRow } from "./month-triangle";
import { grouped } from "./plain-share";
import type { LagEstimate } from "./reporting-lag";
import { COUNTING_RULES_VERSION } from "./rule-version";
import { sayRatio } from "./worse-sentences";

/** The answer of the page: which month of sale failed most against the others at equal age, and what that is worth. */
export function saleMonthSentence({ rows }: MonthTriangle): string {
  const tellable = rows.filter(({ timesOfMany, failures }) => timesOfMany !== null && failures > 0);
  const [worst] = tellable.toSorted((a, b) => (b.timesOfMany?.lower ?? 0) - (a.timesOfMany?.lower ?? 0));
  if (worst === undefined || worst.timesOfMany === null)
    return "No month of sale can be held against the others yet: no failure happened at an age that packs of two months have reached.";
  const sold = `sold in ${worst.soldIn} have ${grouped(worst.failures)} ${worst.failures === 1 ? "failure" : "failures"}`;
  const limits = `${sayRatio(worst.failures / worst.expected)} times as many, 95 % limits for all ${grouped(rows.length)} months at once ${sayRatio(worst.timesOfMany.lower)} to ${sayRatio(worst.timesOfMany.upper)}`;
  if (worst.timesOfMany.lower <= 1)
    return `No month of sale stands out: packs ${sold}, where ${worst.expected.toFixed(1)} were to be expected of the others at equal age (${limits}), and no other month stands out more.`;
  return `Packs ${sold}, where ${worst.expected.toFixed(1)} were to be expected of the others at equal age (${limits}). It is the one that stands out most of ${grouped(rows.length)}, and the highest of many looks higher than it is.`;
}

/** When a cell counts as settled. */
export function settledSentence(lag: LagEstimate): string {
  return lag.kind === "no-lag"
    ? "How late failures are confirmed cannot be estimated yet, so a cell is taken as settled as soon as its last pack has passed it."
    : `95 of 100 failures are confirmed within ${lag.mostDays} ${lag.mostDays === 1 ? "day" : "days"} of being told. Nothing is corrected for it here: a cell is hatched until so long after its last pack has passed it.`;
}

export const howToReadTriangle =
  "Follow a row to see packs sold in one month grow older; go down a column to compare months of sale at the same age. The number is of confirmed failures, the darker the more often. Hatched: not all packs of that month have come so far, or reports of them may still be on their way, so the cell can change. A thick edge: more than the other months of sale at that age even by the lower limit, which one cell in forty does by chance.";

/** The cells as CSV: one row a cell, data date and counting rules in every row, rates in 1,000 pack-months with exact limits. */
export function monthTriangleCsv(
  about: { readonly dataDate: string; readonly of: string },
  rows: readonly SaleMonthRow[],
) {
  const data = rows.flatMap(({ cells }) =>
    cells.map(({ soldIn, month, failures, atRisk, rate, isComplete }) => [
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
];
