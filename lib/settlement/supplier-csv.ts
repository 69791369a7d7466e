import { csvTable } from "./csv-table";
import { plainAmount } from "./money";
import { type SupplierState, supplierStateWords } from "./supplier-claim";

export interface SupplierCsvRow {
  readonly supplier: string;
  readonly lotCode: string;
  readonly reference: string;
  readonly state: SupplierState;
  readonly openedOn: string;
  readonly noticeBy: string | null;
  readonly currency: string;
  readonly amountMinor: number;
  readonly sharePercent: number | null;
  readonly agreedMinor: number | null;
  readonly recoveredMinor: number | null;
  readonly why: string;
}

/** Suppliers' lines as CSV, one row a line, amounts as plain numbers; what is not agreed or recovered yet is empty. */
export function supplierCsv(asOf: string, rows: readonly SupplierCsvRow[]): string {
  const amount = (minor: number | null, currency: string) => (minor === null ? "" : plainAmount(minor, currency));
  return csvTable(
    [
      "data date",
      "supplier",
      "lot",
      "return",
      "state",
      "opened",
      "notice by",
      "currency",
      "cost",
      "share in percent",
      "agreed",
      "recovered",
      "why",
    ],
    rows.map((row) => [
      asOf,
      row.supplier,
      row.lotCode,
      row.reference,
      supplierStateWords[row.state],
      row.openedOn,
      row.noticeBy ?? "",
      row.currency,
      amount(row.amountMinor, row.currency),
      row.sharePercent ?? "",
      amount(row.agreedMinor, row.currency),
      amount(row.recoveredMinor, row.currency),
      row.why,
    ]),
  );
}
