import Papa from "papaparse";
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
 * A dealer's lines as CSV, one row a line with its reason, amounts as plain numbers. Text that a spreadsheet would take
 * for a formula is made plain text (OWASP, "CSV Injection"). Amounts are written by this program and stay numbers.
 */
export function statementCsv(asOf: string, rows: readonly StatementRow[]): string {
  return Papa.unparse(
    {
      fields: [
        "data date",
        "return",
        "what",
        "state",
        "claimed",
        "statement",
        "paid",
        "rate of",
        "currency",
        "amount",
        "reason",
      ],
      data: rows.map((row) => [
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
    },
    // A leading minus of a number is no formula: only text that holds more than a number is neutralised.
    { escapeFormulae: /^(?!-?[0-9]+(\.[0-9]+)?$)[=+\-@\t\r].*$/, newline: "\r\n" },
  );
}
