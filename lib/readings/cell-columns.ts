import type { PackModel } from "@/lib/packs/pack-model";
import { medianOf } from "@/lib/readings/median";
import { listed } from "@/lib/readings/plan-columns";
import type { PlannedColumn } from "@/lib/readings/planned-column";
import { rowMean } from "@/lib/readings/row-mean";

export type CellColumns =
  | {
      readonly kind: "cells";
      readonly cellVoltagesV: readonly Float64Array[];
      /** Pack voltage, or the mean of the cells where the file has no pack voltage. */
      readonly levelV: Float64Array;
      readonly remarks: readonly string[];
    }
  | { readonly kind: "unusable"; readonly reason: "no-cells"; readonly sentence: string };

/** Range of one lithium-ion cell, V: a pack voltage inside it is the voltage of a single cell (engineering default, no authority). */
const singleCellV = { least: 0.5, most: 5 } as const;

/**
 * Series groups in order, group 1 first. A group without a column of its own gets a column of NaN, so that numbers keep their meaning.
 * A file with a voltage of single-cell size and no cell columns is a file of one cell, as the Battery Data Format has it.
 */
export function cellColumns(
  planned: readonly PlannedColumn[],
  values: readonly Float64Array[],
  packVoltageV: Float64Array | null,
  rows: number,
  model: PackModel | undefined,
  unknown: readonly string[] = [],
): CellColumns {
  const byGroup = new Map<number, Float64Array>();
  planned.forEach((column, slot) => {
    const logged = values[slot];
    if (column.meaning.quantity === "cell-voltage" && logged !== undefined)
      byGroup.set(column.meaning.number ?? 1, logged);
  });
  if (byGroup.size === 0) return singleCell(packVoltageV, model, unknown);

  if ([...byGroup.values()].every((cell) => !cell.some(Number.isFinite))) {
    const sentence = `The file has ${byGroup.size} cell ${byGroup.size === 1 ? "column" : "columns"} but no cell voltage in any row; export it again with the cell voltages.`;
    return { kind: "unusable", reason: "no-cells", sentence };
  }

  const remarks: string[] = [];
  const groups = Math.max(...byGroup.keys());
  const missing = Array.from({ length: groups }, (_, at) => at + 1).filter((group) => !byGroup.has(group));
  if (missing.length > byGroup.size) {
    const sentence = `The file has ${byGroup.size} of ${groups} cell columns; export the voltages of all cells.`;
    return { kind: "unusable", reason: "no-cells", sentence };
  }
  if (missing.length > 0)
    remarks.push(`No column for cell ${missing.slice(0, 8).join(", ")}${missing.length > 8 ? " and more" : ""}.`);
  if (model !== undefined && groups !== model.groups)
    remarks.push(`The file has ${groups} cells, the model ${model.groups} series groups.`);
  const noValues = missing.length === 0 ? new Float64Array(0) : new Float64Array(rows).fill(Number.NaN);
  const cellVoltagesV = Array.from({ length: groups }, (_, at) => byGroup.get(at + 1) ?? noValues);
  const packKnown = packVoltageV !== null && Number.isFinite(medianOf(packVoltageV, 1001));
  if (!packKnown) remarks.push("The file has no pack voltage.");
  return { kind: "cells", cellVoltagesV, levelV: packKnown ? packVoltageV : rowMean(cellVoltagesV, rows), remarks };
}

function singleCell(
  packVoltageV: Float64Array | null,
  model: PackModel | undefined,
  unknown: readonly string[],
): CellColumns {
  const middleV = packVoltageV === null ? Number.NaN : medianOf(packVoltageV, 4001);
  if (
    packVoltageV === null ||
    !(middleV >= singleCellV.least && middleV <= singleCellV.most) ||
    (model !== undefined && model.groups > 1)
  ) {
    const sentence =
      unknown.length === 0
        ? "The file has a pack voltage but no cell voltages; export it with one column a cell."
        : `The file has a pack voltage, but no heading in it is known as that of a cell; these headings are not known: ${listed(unknown)}. Say which of them are cells, or export it with one column a cell.`;
    return { kind: "unusable", reason: "no-cells", sentence };
  }
  return {
    kind: "cells",
    cellVoltagesV: [packVoltageV],
    levelV: packVoltageV,
    remarks: ["The file has one voltage of the size of a single cell and is read as one cell."],
  };
}
