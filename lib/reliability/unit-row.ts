import { type LifeProblem, lifeProblem } from "@/lib/stats/life-counts";

/** Where the four columns of a units file stand. `entry` is null where the file has no such column: all start at 0. */
export interface UnitColumns {
  readonly width: number;
  readonly group: number;
  readonly entry: number | null;
  readonly exit: number;
  readonly status: number;
  /** Absent where the file names no causes of failure. */
  readonly cause?: number;
  /** Absent where the file does not name its units: then each row is one of its own. */
  readonly unit?: number;
  /** Absent where the file does not say how long ago each life ended. */
  readonly since?: number;
}

export type HeaderReading =
  | { readonly kind: "columns"; readonly columns: UnitColumns }
  | { readonly kind: "unusable"; readonly reason: string };

/** What a failure is put down to where the file has a column for it and leaves it empty. */
const CAUSE_NOT_STATED = "not stated";

/** Ages beyond are no ages in any unit of time: sums and powers of them overflow. Chosen here, no source. */
const LARGEST_AGE = 1e15;
const SMALLEST_AGE = 1e-9;

/** Finds the columns group, entry, exit, status and, if there, cause, unit and since by name, in any order, case and company. */
export function readUnitHeader(fields: readonly string[]): HeaderReading {
  const names = fields.map((field) =>
    field
      .replace(/^\ufeff/, "")
      .trim()
      .toLowerCase(),
  );
  const missing = ["group", "exit", "status"].filter((name) => !names.includes(name));
  if (missing.length > 0) {
    return {
      kind: "unusable",
      reason: `the header names no column ${missing.join(", ")}; it reads: ${names.join(", ")}`,
    };
  }
  const repeated = ["group", "entry", "exit", "status", "cause", "unit", "since"].filter(
    (name) => names.indexOf(name) !== names.lastIndexOf(name),
  );
  if (repeated.length > 0) return { kind: "unusable", reason: `the header names ${repeated.join(", ")} twice` };
  const entry = names.indexOf("entry");
  const [group, exit, status] = [names.indexOf("group"), names.indexOf("exit"), names.indexOf("status")];
  const [cause, unit, since] = [names.indexOf("cause"), names.indexOf("unit"), names.indexOf("since")];
  return {
    kind: "columns",
    columns: {
      width: names.length,
      group,
      entry: entry < 0 ? null : entry,
      exit,
      status,
      ...(cause >= 0 && { cause }),
      ...(unit >= 0 && { unit }),
      ...(since >= 0 && { since }),
    },
  };
}

export type UnitRowReading =
  | {
      readonly kind: "unit";
      readonly group: string;
      readonly entryAge: number;
      readonly exitAge: number;
      readonly failed: boolean;
      /** Of a failure, where the file names causes. */
      readonly cause?: string;
      /** Where the file names its units. */
      readonly unit?: string;
      /** Time from the exit to the day of the data, where the file says so. */
      readonly since?: number;
    }
  /** A readable row whose ages cannot be true: left out, counted and named. */
  | { readonly kind: "refused"; readonly group: string; readonly problem: LifeProblem }
  /** A row that is not what the header promised: the whole file is doubtful. */
  | { readonly kind: "unusable"; readonly reason: string };

/**
 * Reads one row of a units file. An age that is no number, or none in any unit of time, a status other than 0 or 1, an empty group or a wrong
 * number of fields makes the file unusable, since shifted columns look just like that; a negative age, or an exit not
 * after its entry, refuses this row only. An empty entry means 0. A decimal comma is read where the fields are not
 * parted by commas.
 */
export function readUnitRow(columns: UnitColumns, fields: readonly string[], delimiter = ","): UnitRowReading {
  const decimalNumber = delimiter === "," ? readDecimalPoint : readDecimalPointOrComma;
  if (fields.length !== columns.width) {
    return unusable(`it has ${fields.length} fields where the header has ${columns.width}`);
  }
  const group = fields[columns.group]?.trim() ?? "";
  if (group === "") return unusable("its group is empty");

  const entryText = columns.entry === null ? "" : (fields[columns.entry]?.trim() ?? "");
  const entryAge = entryText === "" ? 0 : decimalNumber(entryText);
  if (entryAge === null) return unusable(`its entry is no number: ${entryText}`);
  const exitText = fields[columns.exit]?.trim() ?? "";
  const exitAge = decimalNumber(exitText);
  if (exitAge === null) return unusable(`its exit is ${exitText === "" ? "empty" : `no number: ${exitText}`}`);
  const largest = Math.max(Math.abs(entryAge), Math.abs(exitAge));
  if (largest > LARGEST_AGE || (exitAge > 0 && exitAge < SMALLEST_AGE))
    return unusable(`its ages cannot be reckoned with: ${entryText || 0} to ${exitText}`);
  const statusText = fields[columns.status]?.trim() ?? "";
  if (statusText !== "0" && statusText !== "1") {
    return unusable(
      `its status is neither 1 (failed) nor 0 (still running): ${statusText === "" ? "empty" : statusText}`,
    );
  }

  const problem = lifeProblem(entryAge, exitAge);
  if (problem !== null) return { kind: "refused", group, problem };
  const failed = statusText === "1";
  const unit = columns.unit === undefined ? undefined : (fields[columns.unit]?.trim() ?? "");
  if (unit === "") return unusable("its unit is empty");
  const since = sinceExit(columns, fields, decimalNumber);
  if (since === null) return unusable("its since is no number from 0, or too large for a time");
  const named = { ...(unit !== undefined && { unit }), ...(since !== undefined && { since }) };
  const life = { kind: "unit", group, entryAge, exitAge, failed, ...named } as const;
  if (columns.cause === undefined || !failed) return life;
  return { ...life, cause: fields[columns.cause]?.trim() || CAUSE_NOT_STATED };
}

/** Empty means 0: the life was watched up to the day of the data. Undefined without such a column, null where it is no age. */
function sinceExit(
  columns: UnitColumns,
  fields: readonly string[],
  decimalNumber: (text: string) => number | null,
): number | null | undefined {
  if (columns.since === undefined) return undefined;
  const text = fields[columns.since]?.trim() ?? "";
  const since = text === "" ? 0 : decimalNumber(text);
  return since === null || since < 0 || since > LARGEST_AGE ? null : since;
}

function unusable(reason: string): UnitRowReading {
  return { kind: "unusable", reason };
}

const DECIMAL = /^[+-]?([0-9]+[.]?[0-9]*|[.][0-9]+)([eE][+-]?[0-9]+)?$/;

/** Stricter than Number(), which would take "0x10" and " " for ages. */
function readDecimalPoint(text: string): number | null {
  const number = DECIMAL.test(text) ? Number(text) : Number.NaN;
  return Number.isFinite(number) ? number : null;
}

function readDecimalPointOrComma(text: string): number | null {
  return readDecimalPoint(text.replace(/^([^.,]*),([^.,]*)$/, "$1.$2"));
}
