import { csvTable } from "@/lib/settlement/csv-table";
import { type DelayTaken, delayFieldNames, delayFields } from "./delay-csv";
import type { FailureEstimate } from "./failure-estimate";
import { ALL_MODELS, type OfModels, rowsOfModels } from "./group-tables-csv";
import { COUNTING_RULES_VERSION } from "./rule-version";
import type { ReadStart, UnknownStarts } from "./unknown-start";

interface ShownShares {
  readonly estimates: readonly FailureEstimate[];
  /** With late reports allowed for; null where the lag cannot be estimated: then the fields stay empty. */
  readonly headline: readonly FailureEstimate[] | null;
}

interface GroupShares {
  readonly dataDate: string;
  readonly by: string;
  readonly group: string;
  readonly shares: OfModels<ShownShares>;
  /** Of all packs together. */
  readonly unknownStarts: UnknownStarts | null;
  /** What the headline was corrected by. */
  readonly delay: DelayTaken;
}

/**
 * Shares failed of one group, and of each of its models where it has several, as CSV: one row a reading and age, data date and counting rules in every row, empty fields
 * where nothing can be told. Readings of packs without a known day of sale stand in it where there are such packs.
 */
export function groupCsv({ dataDate, by, group, shares, unknownStarts, delay }: GroupShares): string {
  const about = [dataDate, COUNTING_RULES_VERSION, by, group];
  const nothing = delayFieldNames.map(() => "");
  const readings = unknownStarts?.readings.filter(({ reading }) => reading !== "left-out") ?? [];
  const shown = rowsOfModels(shares, ({ estimates, headline }) => [
    ...estimates.map((estimate) => ["confirmed failures", "left-out", ...shareFields(estimate), ...nothing]),
    ...estimates.map((estimate) => {
      const share = headline?.find(({ months }) => months === estimate.months);
      const numbers = share?.kind === "estimate" ? [share.probability, share.lower, share.upper] : ["", "", ""];
      const { months, atRisk, failures } = estimate;
      return ["late reports allowed for", "left-out", months, ...numbers, atRisk, failures, ...delayFields(delay)];
    }),
  ]);
  const read = readings.flatMap(({ reading, estimates }: ReadStart) =>
    estimates.map((estimate) => [ALL_MODELS, "confirmed failures", reading, ...shareFields(estimate), ...nothing]),
  );
  return csvTable(
    fields,
    [...shown, ...read].map((row) => [...about, ...row]),
  );
}

function shareFields(estimate: FailureEstimate): (string | number)[] {
  const { months, atRisk, failures } = estimate;
  if (estimate.kind === "cannot-tell") return [months, "", "", "", atRisk, failures];
  return [months, estimate.probability, estimate.lower, estimate.upper, atRisk, failures];
}

const fields = [
  "data date",
  "counting rules",
  "grouped by",
  "group",
  "model",
  "line",
  "packs without a known day of sale",
  "months in use",
  "share failed",
  "lower 95 % limit",
  "upper 95 % limit",
  "packs at risk",
  "failures",
  ...delayFieldNames,
];
