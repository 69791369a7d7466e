import { csvTable } from "@/lib/settlement/csv-table";
import type { LagWeightedCurve } from "@/lib/stats/lag-weighted-survival";
import type { CompareBy } from "./compare-by";
import type { GroupEffect } from "./compare-strata";
import { type DelayTaken, delayFieldNames, delayFields } from "./delay-csv";
import type { GroupReport } from "./group-report";
import type { IfFailures } from "./if-failures";
import { MILESTONE_MONTHS } from "./months-in-service";
import { COUNTING_RULES_VERSION } from "./rule-version";
import type { StartReading, UnknownStarts } from "./unknown-start";

export interface ExportedGroup extends Omit<GroupReport, "lagCorrected"> {
  readonly modelNames: readonly string[];
  readonly effect: GroupEffect | null;
  /** Null where the lag cannot be estimated: then nothing is corrected, and the fields stay empty. */
  readonly lagCorrected: LagWeightedCurve | null;
  readonly unknownStarts: UnknownStarts | null;
  /** What its ratio and its shares with late reports allowed for were corrected by. */
  readonly delay: DelayTaken;
  /** Against the others once more, were returns undecided for too long failures; null where it has none. */
  readonly ifFailures: IfFailures | null;
}

/**
 * The table of the failure rates as CSV: one row a group, data date and counting rules in every row, shares as numbers from 0 to 1
 * with their 95 % limits, and an empty field where nothing can be told. Text that a spreadsheet would take for a formula
 * is made plain text (OWASP, "CSV Injection": fields that begin with =, +, -, @, tab or carriage return).
 */
export function reliabilityCsv(dataDate: string, by: CompareBy, groups: readonly ExportedGroup[]): string {
  return csvTable(
    [
      ...plainFields,
      ...MILESTONE_MONTHS.flatMap(fieldsAt),
      ...MILESTONE_MONTHS.flatMap((months) => shareFields(months, "late reports allowed for")),
      ...MILESTONE_MONTHS.flatMap(cameBackFields),
      ...MILESTONE_MONTHS.flatMap(mayHaveFailedFields),
      "dispatched packs without a day of sale",
      "confirmed failures of those",
      ...otherReadings.flatMap((reading) =>
        MILESTONE_MONTHS.flatMap((months) => shareFields(months, startWords[reading])),
      ),
      ...ifFailuresFields,
      ...delayFieldNames,
    ],
    groups.map((row) => cells(dataDate, by, row)),
  );
}

const plainFields = [
  "data date",
  "counting rules",
  "model",
  "grouped by",
  "group",
  "packs built",
  "packs dispatched",
  "packs in service",
  "confirmed failures",
  "undecided returns",
  "returns (any) within cover",
  "unclassified returns",
  "failed after cover",
  "failures at ages at which others were watched",
  "failures expected",
  "times as often as the others",
  "lower 95 % limit of that",
  "upper 95 % limit of that",
  "p",
  "p adjusted for all looked at",
  "holds whatever the delay, or cannot be told yet",
];

const ifFailuresFields = [
  "returns undecided for too long",
  "times as often as the others, were they failures",
  "lower 95 % limit of that, were they failures",
  "upper 95 % limit of that, were they failures",
  "p adjusted, were they failures",
];

/** Readings of packs without a day of sale; that they are left out is what the plain shares say. */
const otherReadings = [
  "since-dispatch",
  "failed-when-new",
  "after-usual-delay",
] as const satisfies readonly StartReading[];
const startWords = {
  "since-dispatch": "those without a day of sale in use since dispatch",
  "failed-when-new": "those without a day of sale sold the day before they failed, else never",
  "after-usual-delay": "those without a day of sale in use after the usual time on the shelf",
} as const satisfies Record<(typeof otherReadings)[number], string>;

function shareFields(months: number, reading: string): string[] {
  return ["share failed", "lower 95 % limit", "upper 95 % limit"].map(
    (what) => `${what} by ${months} months, ${reading}`,
  );
}

function cameBackFields(months: number): string[] {
  return ["share that came back", "lower 95 % limit", "upper 95 % limit"].map(
    (what) => `${what} by ${months} months, whatever was found`,
  );
}

function mayHaveFailedFields(months: number): string[] {
  return [
    "share whose first return was a failure, undecided or unclassified",
    "lower 95 % limit",
    "upper 95 % limit",
  ].map((what) => `${what} by ${months} months, first returns that are or may be failures`);
}

function shareCells(share: { probability: number; lower: number; upper: number } | null): (number | "")[] {
  return share === null ? ["", "", ""] : [share.probability, share.lower, share.upper];
}

function fieldsAt(months: number): string[] {
  return [
    `share failed by ${months} months`,
    `lower 95 % limit at ${months} months`,
    `upper 95 % limit at ${months} months`,
    `packs at risk at ${months} months`,
    `failures by ${months} months`,
  ];
}

function startCells(starts: UnknownStarts | null, asked: StartReading): (number | "")[] {
  const read = starts?.readings.find(({ reading }) => reading === asked);
  return MILESTONE_MONTHS.flatMap((months) => {
    const estimate = read?.estimates.find((one) => one.months === months);
    return shareCells(estimate?.kind === "estimate" ? estimate : null);
  });
}

function cells(dataDate: string, by: CompareBy, row: ExportedGroup): (string | number)[] {
  const estimates = MILESTONE_MONTHS.flatMap((months) => {
    const estimate = row.estimates.find((candidate) => candidate.months === months);
    if (estimate === undefined) return ["", "", "", "", ""];
    const { atRisk, failures } = estimate;
    if (estimate.kind === "cannot-tell") return ["", "", "", atRisk, failures];
    return [estimate.probability, estimate.lower, estimate.upper, atRisk, failures];
  });
  const { packsBuilt, packsDispatched, packsInService, failures, undecidedReturns, naive, effect } = row;
  return [
    dataDate,
    COUNTING_RULES_VERSION,
    row.modelNames.join(", "),
    by,
    row.group,
    packsBuilt,
    packsDispatched,
    packsInService,
    failures,
    undecidedReturns,
    naive.returns,
    row.allReturns.unclassified,
    row.failedAfterCover,
    effect === null || effect.p === null ? "" : effect.observed,
    effect === null || effect.p === null ? "" : effect.expected,
    effect?.ratio?.ratio ?? "",
    effect?.ratio?.lower ?? "",
    effect?.ratio?.upper ?? "",
    effect?.p ?? "",
    effect?.adjustedP ?? "",
    effect?.holds == null ? "" : effect.holds ? "whatever the delay" : "cannot tell yet",
    ...estimates,
    ...row.headline.flatMap((estimate) =>
      shareCells(row.lagCorrected !== null && estimate.kind === "estimate" ? estimate : null),
    ),
    ...row.allReturns.estimates.flatMap((estimate) => shareCells(estimate.kind === "estimate" ? estimate : null)),
    ...row.allReturns.mayHaveFailed.flatMap((estimate) => shareCells(estimate.kind === "estimate" ? estimate : null)),
    row.unknownStarts?.packs ?? 0,
    row.unknownStarts?.failures ?? 0,
    ...otherReadings.flatMap((reading) => startCells(row.unknownStarts, reading)),
    row.ifFailures?.undecided ?? 0,
    row.ifFailures?.effect.ratio?.ratio ?? "",
    row.ifFailures?.effect.ratio?.lower ?? "",
    row.ifFailures?.effect.ratio?.upper ?? "",
    row.ifFailures?.effect.adjustedP ?? "",
    ...delayFields(row.delay),
  ];
}
