import Papa from "papaparse";

/** Text that a spreadsheet would take for a formula (OWASP, "CSV Injection"); a number with its minus is none. */
const formula = /^(?!-?[0-9]+(\.[0-9]+)?$)[=+\-@\t\r]/;

/**
 * A table as CSV: a head, CRLF at the end of a row, quotes doubled within quotes (RFC 4180). Text that a spreadsheet would
 * take for a formula is made plain text; numbers stay numbers, and what cannot be told is an empty field.
 */
export function csvTable(fields: readonly string[], data: readonly (readonly (string | number)[])[]): string {
  return Papa.unparse(
    { fields: [...fields], data: data.map((row) => [...row]) },
    { escapeFormulae: formula, newline: "\r\n" },
  );
}
