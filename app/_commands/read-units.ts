import { createReadStream } from "node:fs";
import Papa from "papaparse";
import { createUnitGroups, type UnitGroup } from "@/lib/reliability/unit-groups";
import { readUnitHeader, readUnitRow, type UnitColumns } from "@/lib/reliability/unit-row";

export interface UnitsAsked {
  readonly asksForUnits: boolean;
  /** Time before the day of the data that laws leave out; needs a column named since. */
  readonly cutBack?: number;
}

export type UnitsReading =
  | { readonly kind: "groups"; readonly groups: readonly UnitGroup[] }
  | { readonly kind: "unusable"; readonly sentence: string };

/** Streams a units file through the counting; memory follows the number of distinct ages, not of rows, unless units are asked for. */
export function readUnits(file: string, { asksForUnits, cutBack = 0 }: UnitsAsked): Promise<UnitsReading> {
  let groups = createUnitGroups();
  let columns: UnitColumns | null = null;
  let line = 0;
  let unitRows = 0;
  let unusable: string | null = null;

  /** Counts one row, or returns the reason why the whole file cannot be used. */
  function take(fields: readonly string[], delimiter: string): string | null {
    if (fields.length === 1 && fields[0]?.trim() === "") return null;
    if (columns === null) {
      const header = readUnitHeader(fields);
      if (header.kind === "unusable") return header.reason;
      columns = header.columns;
      if (cutBack > 0 && columns.since === undefined)
        return "a time can be cut off only where a column named since says how long before the day of the data each life ended";
      groups = createUnitGroups({
        hasCauses: columns.cause !== undefined,
        keepsUnits: asksForUnits && columns.unit !== undefined,
        cutBack,
      });
      return null;
    }
    const row = readUnitRow(columns, fields, delimiter);
    if (row.kind === "unusable") return row.reason;
    unitRows += 1;
    groups.add(row, line);
    return null;
  }

  function outcome(): UnitsReading {
    if (unusable !== null) return { kind: "unusable", sentence: unusable };
    if (unitRows === 0) return { kind: "unusable", sentence: `${file} holds no units.` };
    return { kind: "groups", groups: groups.finish() };
  }

  return new Promise((resolve) => {
    Papa.parse<string[]>(createReadStream(file, "utf8"), {
      delimitersToGuess: [",", ";", "\t"],
      chunk({ data, errors, meta }, parser) {
        const badQuote = errors.find((error) => error.type === "Quotes");
        for (const [i, fields] of data.entries()) {
          line += 1;
          const reason = badQuote?.row === i ? "its quotation marks do not close" : take(fields, meta.delimiter);
          if (reason === null) continue;
          unusable = `${file} cannot be used: line ${line}: ${reason}.`;
          parser.abort();
          return;
        }
      },
      complete: () => resolve(outcome()),
      error: () => resolve({ kind: "unusable", sentence: `${file} cannot be read.` }),
    });
  });
}
