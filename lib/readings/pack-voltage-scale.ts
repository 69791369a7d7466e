import type { PackModel } from "@/lib/packs/pack-model";
import { type ColumnUnit, millivoltUnit } from "@/lib/readings/column-unit";
import { medianOf } from "@/lib/readings/median";
import { plainNumber } from "@/lib/readings/plain-number";
import { type DoubtfulColumn, divideByThousand, isAllOnes, type SettledColumn } from "@/lib/readings/thousandfold";

const sampleLimit = 4001;
/** No pack of ours stands at thousands of volts (engineering default, no authority). */
const impossiblePackV = 2000;
/** A pack voltage lies within this share of what cells or model let expect (engineering default, no authority). */
const expectedShare = { least: 0.5, most: 1.6 } as const;

/**
 * Settles a pack voltage that is in mV under V, in V under mV, or in both by turns, by comparison with the sum of the cells or, without
 * cells, with the model. Null where it is as its header says or where nothing can be compared.
 */
export function packVoltageScale(
  { header, stated, logged, line }: DoubtfulColumn,
  cellSumV: number,
  model: PackModel | undefined,
): SettledColumn | null {
  const expectedV = expectedPackV(cellSumV, model);
  const fits = (voltageV: number) =>
    voltageV >= expectedShare.least * expectedV && voltageV <= expectedShare.most * expectedV;
  // Nothing to compare with: then the size alone speaks, as it does without a unit in the header.
  const isMillivolts = Number.isNaN(expectedV)
    ? (value: number) => value > impossiblePackV && !isAllOnes(value)
    : (value: number) => fits(value / 1000) && !isAllOnes(value);
  let millivolts = 0;
  let volts = 0;
  for (let row = 0; row < logged.length; row++) {
    const value = logged[row] ?? Number.NaN;
    if (isMillivolts(value)) millivolts++;
    else if (fits(value)) volts++;
  }
  const saysMillivolts = stated?.symbol === "mV";
  if (millivolts > 0 && volts > 0) {
    const restIsMillivolts = saysMillivolts || millivolts > volts;
    const first = line[logged.findIndex(isMillivolts)] ?? 0;
    divideByThousand(logged, (value) => isMillivolts(value) || (restIsMillivolts && !fits(value)));
    return {
      remark:
        `The file mixes units: ${plainNumber(millivolts)} of ${plainNumber(logged.length)} rows, the first in line ${first}, ` +
        "give the pack voltage in mV, the others in V; they were converted to V. Please confirm.",
    };
  }
  const middle = plainNumber(medianOf(logged, sampleLimit));
  if (stated?.symbol === "V" && millivolts * 2 > logged.length) {
    divideByThousand(logged, () => true);
    return {
      taken: "mV",
      remark: `Column '${header}' says V, but no pack of this kind has ${middle} V: the values were taken as mV. Please confirm the unit.`,
    };
  }
  return saysMillivolts && volts * 2 > logged.length
    ? {
        taken: "V",
        remark: `Column '${header}' says mV, but the pack has far more than ${middle} mV: the values were taken as V. Please confirm the unit.`,
      }
    : null;
}

/** Unit of a pack voltage without one in its header, by comparison with the cells or the model; null for volts. */
export function packVoltageUnit(middle: number, cellSumV: number, model: PackModel | undefined): ColumnUnit | null {
  const expectedV = expectedPackV(cellSumV, model);
  for (const divisor of [10, 100, 1000]) {
    const ratio = middle / divisor / expectedV;
    if (ratio > 0.7 && ratio < 1.4)
      return { ...millivoltUnit, symbol: divisor === 1000 ? "mV" : `1/${divisor} V`, scale: 1 / divisor };
  }
  return Number.isNaN(expectedV) && middle > impossiblePackV ? millivoltUnit : null;
}

function expectedPackV(cellSumV: number, model: PackModel | undefined): number {
  if (cellSumV > 0) return cellSumV;
  return model === undefined ? Number.NaN : (model.groups * (model.cellMaxV + model.cellMinV)) / 2;
}
