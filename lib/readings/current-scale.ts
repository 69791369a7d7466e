import type { PackModel } from "@/lib/packs/pack-model";
import { quantileOf } from "@/lib/readings/median";
import { plainNumber } from "@/lib/readings/plain-number";
import { type DoubtfulColumn, divideByThousand, isAllOnes, type SettledColumn } from "@/lib/readings/thousandfold";

const sampleLimit = 4001;
/** No pack of ours carries this, A; with a model, twenty times its peak (engineering defaults, no authority). */
const impossibleA = 5000;
const impossiblePeakShare = 20;
/** Share of the currents that must be impossible before the unit is doubted: single ones are glitches (engineering default, no authority). */
const impossibleShare = 0.05;
/** Share of the currents, and of the impossible current, below which hardly any may lie: else half the file is in A (engineering defaults, no authority). */
const bulk = { share: 0.2, ofImpossible: 1 / 50 } as const;

/**
 * Settles a current in mA under A: impossible as amperes in more than single rows, possible as milliamperes in all. Where the cell
 * voltages are in mV in some rows only, the current may be in mA in the same rows. Otherwise impossible currents are only named.
 * Null where no current is impossible, or where the header names another unit or leaves it to the size of the values.
 */
export function currentScale(
  { header, stated, logged, line }: DoubtfulColumn,
  millivoltRow: Uint8Array | null,
  model: PackModel | undefined,
): SettledColumn | null {
  if (stated !== null && stated.symbol !== "A") return null;
  const limitA = model === undefined ? impossibleA : impossiblePeakShare * model.peakDischargeA;
  const sizes = (holds: (row: number) => boolean) =>
    logged.map((value, row) => (value === 0 || isAllOnes(value) || !holds(row) ? Number.NaN : Math.abs(value)));
  const isMilliamperes = (size: Float64Array) =>
    quantileOf(size, 1 - impossibleShare, sampleLimit) > limitA &&
    quantileOf(size, bulk.share, sampleLimit) > bulk.ofImpossible * limitA &&
    size.every((each) => !(each / 1000 > limitA));

  const firstImpossible = firstBeyond(logged, limitA);
  if (firstImpossible < 0) return null;
  if (millivoltRow !== null) {
    const inside = sizes((row) => millivoltRow[row] === 1);
    const outside = sizes((row) => millivoltRow[row] !== 1);
    if (isMilliamperes(inside) && outside.every((each) => !(each > limitA))) {
      const { divided, firstRow } = divideByThousand(logged, (_, row) => millivoltRow[row] === 1);
      return {
        remark:
          `The file mixes units: in ${plainNumber(divided)} rows, the first in line ${line[firstRow] ?? 0}, ` +
          "the current is in mA, as the cell voltages there are in mV; it was converted to A. Please confirm.",
      };
    }
  }
  const leftToSize = stated === null && model !== undefined;
  const size = `${plainNumber(Math.abs(logged[firstImpossible] ?? 0))} A`;
  if (isMilliamperes(sizes(() => true))) {
    if (leftToSize) return null;
    divideByThousand(logged, () => true);
    const says = stated === null ? "states no unit" : "says A";
    return {
      taken: "mA",
      remark: `Column '${header}' ${says}, but no pack of this kind carries ${size}: the values were taken as mA. Please confirm the unit.`,
    };
  }
  // Milliamperes come as whole numbers; small currents with decimals beside them are amperes.
  const hasAmperes = logged.some((value) => Math.abs(value) < bulk.ofImpossible * limitA && !Number.isInteger(value));
  if (leftToSize && !hasAmperes) return null;
  return {
    remark:
      `The current in line ${line[firstImpossible] ?? 0} is ${size}, which no pack of this kind carries; ` +
      "the current is read in A throughout. Please check whether its unit changes inside the file.",
  };
}

/** First row whose value is larger than the limit, in either direction, and no word of ones; -1 without any. */
function firstBeyond(logged: Float64Array, limitA: number): number {
  for (let row = 0; row < logged.length; row++) {
    const value = logged[row] ?? Number.NaN;
    if (Math.abs(value) > limitA && !isAllOnes(value)) return row;
  }
  return -1;
}
