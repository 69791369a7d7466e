import { csvTable } from "@/lib/settlement/csv-table";
import { type DelayTaken, delayFieldNames, delayFields } from "./delay-csv";
import type { FailureEstimate } from "./failure-estimate";
import { COUNTING_RULES_VERSION } from "./rule-version";
import type { ReadStart, UnknownStarts } from "./unknown-start";

interface GroupShares {
  readonly dataDate: string;
  readonly by: string;
  readonly group: string;
  readonly estimates: readonly FailureEstimate[];
  /** With late reports allowed for; null where the lag cannot be estimated: then the fields stay empty. */
  readonly headline: readonly FailureEstimate[] | null;
  readonly unknownStarts: UnknownStarts | null;
  /** What the headline was corrected by. */
  readonly delay: DelayTaken;
}

/**
 * Shares failed of one group as CSV: one row a reading and age, data date and counting rules in every row, empty fields
 * where nothing can be told. Readings of packs without a known day of sale stand in it where there are such packs.
 */
export function groupCsv({ dataDate, by, group, estimates, headline, unknownStarts, delay }: GroupShares): string {
  const about = [dataDate, COUNTING_RULES_VERSION, by, group];
  const nothing = delayFieldNames.map(() => "");
  const readings = unknownStarts?.readings.filter(({ reading }) => reading !== "left-out") ?? [];
  const data = [
    ...estimates.map((estimate) => [...about, "confirmed failures", "left-out", ...shareFields(estimate), ...nothing]),
    ...estimates.map((estimate) => {
      const share = headline?.find(({ months }) => months === estimate.months);
      const numbers = share?.kind === "estimate" ? [share.probability, share.lower, share.upper] : ["", "", ""];
      return [
        ...about,
        "late reports allowed for",
        "left-out",
        estimate.months,
        ...numbers,
        estimate.atRisk,
        estimate.failures,
        ...delayFields(delay),
      ];
    }),
    ...readings.flatMap(({ reading, estimates: its }: ReadStart) =>
      its.map((estimate) => [...about, "confirmed failures", reading, ...shareFields(estimate), ...nothing]),
    ),
  ];
  return csvTable(fields, data);
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
