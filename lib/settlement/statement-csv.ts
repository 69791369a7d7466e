import { csvTable } from "./csv-table";
import { plainAmount } from "./money";

export interface StatementRow {
  readonly reference: string;
  readonly what: string;
  readonly state: string;
  readonly claimedOn: string;
  readonly statementNumber: number | null;
  readonly paidOn: string | null;
  readonly currency: string;
  readonly amountMinor: number;
  readonly rateFrom: string | null;
  readonly reason: string;
}

/**
 * A dealer's lines as CSV, one row a line with its reason, amounts as plain numbers.
 */
export function statementCsv(asOf: string, rows: readonly StatementRow[]): string {
  return csvTable(
    ["data date", "return", "what", "state", "claimed", "statement", "paid", "rate of", "currency", "amount", "reason"],
    rows.map((row) => [
      asOf,
      row.reference,
      row.what,
      row.state,
      row.claimedOn,
      row.statementNumber ?? "",
      row.paidOn ?? "",
      row.rateFrom ?? "",
      row.currency,
      plainAmount(row.amountMinor, row.currency),
      row.reason,
    ]),
  );
}
