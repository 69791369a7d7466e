import { csvTable } from "@/lib/settlement/csv-table";

/** One return as a row of a file: what it is, where it stands, and no word of a customer. */
export interface ReturnLine {
  readonly reference: string;
  readonly dealer: string;
  readonly serial: string;
  readonly revision: string;
  readonly status: string;
  readonly symptom: string;
  readonly toldOn: string;
  readonly lodgedOn: string;
  readonly coverOutcome: string;
  readonly coverEndsOn: string | null;
  readonly remedy: string | null;
  readonly confirmedFault: string | null;
  readonly decidedOn: string | null;
}

const heads = [
  "data date", "return", "dealer", "serial", "revision", "status", "symptom", "told", "sent in", "cover", "cover ends",
  "remedy", "fault found", "decided",
]; // biome-ignore format: one list

/** Returns as CSV, one row each, with the day of the file in every row. */
export function returnsCsv(asOf: string, rows: readonly ReturnLine[]): string {
  return csvTable(
    heads,
    rows.map((row) => [
      asOf,
      row.reference,
      row.dealer,
      row.serial,
      row.revision,
      row.status,
      row.symptom,
      row.toldOn,
      row.lodgedOn,
      row.coverOutcome,
      row.coverEndsOn ?? "",
      row.remedy ?? "",
      row.confirmedFault ?? "",
      row.decidedOn ?? "",
    ]),
  );
}
