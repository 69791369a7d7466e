import Papa from "papaparse";
import type { GroupReport } from "./group-report";
import { MILESTONE_MONTHS } from "./months-in-service";

export interface ExportedRevision extends GroupReport {
  readonly modelName: string;
}

/**
 * The table of the failure rates as CSV: one row a revision, the data date in every row, shares as numbers from 0 to 1
 * with their 95 % limits, and an empty field where nothing can be told. Text that a spreadsheet would take for a formula
 * is made plain text (OWASP, "CSV Injection": fields that begin with =, +, -, @, tab or carriage return).
 */
export function reliabilityCsv(dataDate: string, revisions: readonly ExportedRevision[]): string {
  return Papa.unparse(
    {
      fields: [...plainFields, ...MILESTONE_MONTHS.flatMap(fieldsAt)],
      data: revisions.map((row) => cells(dataDate, row)),
    },
    { escapeFormulae: true, newline: "\r\n" },
  );
}

const plainFields = [
  "data date",
  "model",
  "revision",
  "packs built",
  "packs dispatched",
  "packs in service",
  "confirmed failures",
  "undecided returns",
  "returns (any)",
];

function fieldsAt(months: number): string[] {
  return [
    `share failed by ${months} months`,
    `lower 95 % limit at ${months} months`,
    `upper 95 % limit at ${months} months`,
    `packs at risk at ${months} months`,
    `failures by ${months} months`,
  ];
}

function cells(dataDate: string, row: ExportedRevision): (string | number)[] {
  const estimates = MILESTONE_MONTHS.flatMap((months) => {
    const estimate = row.estimates.find((candidate) => candidate.months === months);
    if (estimate === undefined) return ["", "", "", "", ""];
    const { atRisk, failures } = estimate;
    if (estimate.kind === "cannot-tell") return ["", "", "", atRisk, failures];
    return [estimate.probability, estimate.lower, estimate.upper, atRisk, failures];
  });
  const { packsBuilt, packsDispatched, packsInService, failures, undecidedReturns, naive } = row;
  return [
    dataDate,
    row.modelName,
    row.group,
    packsBuilt,
    packsDispatched,
    packsInService,
    failures,
    undecidedReturns,
    naive.returns,
    ...estimates,
  ];
}
