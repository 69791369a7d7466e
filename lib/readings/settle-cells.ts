import { cellScales, type LoggedCell, loggedCells } from "@/lib/readings/cell-scale";
import type { ColumnUnit } from "@/lib/readings/column-unit";
import { medianOf } from "@/lib/readings/median";
import { convertMixedRows, type MixedRows } from "@/lib/readings/mixed-cell-rows";
import { plainNumber } from "@/lib/readings/plain-number";
import type { PlannedColumn } from "@/lib/readings/planned-column";
import { namesOfColumns } from "@/lib/readings/unit-remarks";

export interface SettledCells {
  /** What was done to which columns, as their headers foresee or leave open. */
  readonly conversions: ReadonlyMap<string, readonly string[]>;
  readonly remarks: readonly string[];
  /** 1 in each row of which a cell was in mV while the rest of the file was not; null where the file keeps to its units. */
  readonly millivoltRow: Uint8Array | null;
  /** Unit each cell column was read in, by its position in the row. */
  readonly unitOfField: ReadonlyMap<number, "V" | "mV">;
}

const sampleLimit = 4001;
/** Cell voltages outside this are named as impossible: no unit explains them (engineering default, no authority). */
const impossibleCellV = { below: 0.01, above: 100 } as const;

/**
 * Brings all cell columns to volts, in place, by their header where the values allow it and by the values where they leave no doubt
 * (see cellScales). One remark a kind of contradiction, not one a column.
 */
export function settleCells(
  columns: readonly PlannedColumn[],
  values: readonly Float64Array[],
  line: Int32Array,
): SettledCells {
  const cells = loggedCells(columns, values);
  const scales = cellScales(cells);
  const conversions = new Map<string, string[]>();
  const remarks: string[] = [];
  const of = (holds: (stated: ColumnUnit | null, scale: string) => boolean) =>
    cells.filter(({ stated }, at) => holds(stated, scales[at] ?? "volts"));

  const unlikeVolts = of((stated, scale) => stated?.symbol === "V" && scale === "millivolts");
  const unlikeMillivolts = of((stated, scale) => stated?.symbol === "mV" && scale === "volts");
  remarks.push(...wrongHeaders(unlikeVolts, "V", "mV"), ...wrongHeaders(unlikeMillivolts, "mV", "V"));
  const foreseen = of((stated, scale) => stated?.symbol === "mV" && scale !== "volts");
  const bySize = of((stated, scale) => stated === null && scale === "millivolts");
  if (foreseen.length > 0) conversions.set("converted from mV", headersOf(foreseen));
  if (bySize.length > 0) conversions.set("taken for mV by the size of the values", headersOf(bySize));
  if (bySize.length > 0 && of((stated, scale) => stated === null && scale === "volts").length > 0)
    remarks.push(
      "Some cell columns are in mV and others in V; each was read by the size of its values. Please confirm the units.",
    );

  const mixed = convertMixedRows(cells, scales);
  cells.forEach(({ values: logged }, at) => {
    if (scales[at] === "millivolts") for (let row = 0; row < logged.length; row++) logged[row] = inVolts(logged[row]);
  });
  if (mixed !== null) remarks.push(mixedUnits(mixed, line));
  remarks.push(...impossible(cells));
  const unitOfField = new Map(
    cells.map(({ field }, at): [number, "V" | "mV"] => [field, scales[at] === "millivolts" ? "mV" : "V"]),
  );
  return { conversions, remarks, millivoltRow: mixed?.millivoltRow ?? null, unitOfField };
}

function mixedUnits({ converted, firstRow }: MixedRows, line: Int32Array): string {
  const where =
    converted === line.length
      ? "every row gives some cell voltages in mV, the others in V"
      : `${plainNumber(converted)} of ${plainNumber(line.length)} rows, the first in line ${line[firstRow] ?? 0}, give cell voltages in mV, the others in V`;
  return `The file mixes units: ${where}; they were converted to V. Please confirm.`;
}

function inVolts(millivolts: number | undefined): number {
  return (millivolts ?? Number.NaN) / 1000;
}

function headersOf(cells: readonly LoggedCell[]): string[] {
  return cells.map(({ header }) => header);
}

/** To be called while the values stand as they were logged. */
function wrongHeaders(cells: readonly LoggedCell[], says: "V" | "mV", taken: "V" | "mV"): string[] {
  const [first] = cells;
  if (first === undefined) return [];
  const middles = cells.map(({ values }) => medianOf(values, sampleLimit));
  const middle = plainNumber(medianOf(middles));
  const verb = cells.length === 1 ? "says" : "say";
  const why = says === "V" ? `no cell has ${middle} V` : `the cells of a working pack do not have ${middle} mV`;
  return [
    `${namesOfColumns(headersOf(cells))} ${verb} ${says}, but ${why}: the values were taken as ${taken}. Please confirm the unit.`,
  ];
}

function impossible(cells: readonly LoggedCell[]): string[] {
  const found = cells.flatMap((cell) => {
    const middleV = medianOf(cell.values, sampleLimit);
    const isImpossible = middleV > impossibleCellV.above || (middleV > 0 && middleV < impossibleCellV.below);
    return cell.stated !== null && isImpossible ? [{ header: cell.header, middleV }] : [];
  });
  const [first] = found;
  if (first === undefined) return [];
  const names = namesOfColumns(found.map(({ header }) => header));
  return [
    `${names} ${found.length === 1 ? "gives" : "give"} ${plainNumber(first.middleV)} V, which no working cell has; either the unit in the header or the measurement is wrong.`,
  ];
}
