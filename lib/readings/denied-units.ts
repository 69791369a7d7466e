import type { PackModel } from "@/lib/packs/pack-model";
import { type ColumnUnit, unitOfSymbol } from "@/lib/readings/column-unit";
import { medianOf, quantileOf } from "@/lib/readings/median";
import type { PlannedColumn } from "@/lib/readings/planned-column";
import { dimensionsOf } from "@/lib/readings/quantity";
import { isAllOnes } from "@/lib/readings/thousandfold";

/** A unit that was confirmed for an earlier file, or that a heading states, and that the values deny. */
export interface DeniedUnit {
  /** Symbol of the unit the values look like. */
  readonly unit: string;
  /** Both units, as a sentence. */
  readonly why: string;
}

const sampleLimit = 4001;
/** No probe of a pack reads outside these, degC (diagnostics reference 1.2: outside them a temperature is no reading). */
const possibleC = { least: -40, most: 150 } as const;
/** Resistance of a series group where the model knows none, milliohm (engineering default, no authority: 0.3 to 20 are met). */
const usualGroupMilliohm = 1;
/** A thousandfold error lies ten times beyond this factor; no age or cold reaches it (engineering default, no authority). */
const resistanceFactor = 100;

/**
 * Columns whose unit was confirmed for an earlier file of this header while their values, converted by it, cannot be such: by field. So too
 * temperatures whose heading states a unit that they cannot be in.
 * `read` is the unit each field was read in, `overruled` the unit that the size of the values put in the place of it.
 */
export function deniedUnits(
  columns: readonly PlannedColumn[],
  values: readonly Float64Array[],
  read: ReadonlyMap<number, string>,
  overruled: ReadonlyMap<number, string>,
): ReadonlyMap<number, DeniedUnit> {
  const denied = new Map<number, DeniedUnit>();
  columns.forEach(({ field, header, meaning }, slot) => {
    const converted = values[slot];
    const taken = overruled.get(field);
    if (
      meaning.confirmed === undefined &&
      taken !== undefined &&
      dimensionsOf[meaning.quantity].includes("temperature")
    )
      denied.set(field, {
        unit: taken,
        why: `Column '${header}' says ${meaning.unit?.symbol ?? "degC"}, but no pack is as hot as its values: they were taken as ${taken}. Please confirm the unit.`,
      });
    if (meaning.confirmed !== "earlier-file" || meaning.unit === null || converted === undefined) return;
    const unit = overruled.get(field) ?? unitTheyLookLike(meaning.quantity, meaning.unit, converted, read.get(field));
    if (unit !== undefined && unit !== meaning.unit.symbol) denied.set(field, deniedAs(header, meaning.unit, unit));
  });
  return denied;
}

function deniedAs(header: string, remembered: ColumnUnit, unit: string): DeniedUnit {
  const why = `Column '${header}' was confirmed as ${remembered.symbol} for an earlier file with this header, but the values of this one look like ${unit}.`;
  return { unit, why };
}

/**
 * The same of a current, by the resistance of a group in ohm that the steps of current and voltage show: null where it is one a
 * group may have, or where the unit was not confirmed for an earlier file.
 */
export function currentDeniedByResistance(
  { header, meaning: { unit, confirmed } }: PlannedColumn,
  groupOhm: number,
  model: PackModel | undefined,
): DeniedUnit | null {
  if (confirmed !== "earlier-file" || unit === null) return null;
  const usualOhm = (model?.groupResistanceMilliohm ?? usualGroupMilliohm) / 1000;
  if (unit.symbol === "mA" && groupOhm > resistanceFactor * usualOhm) return deniedAs(header, unit, "A");
  return unit.symbol === "A" && groupOhm < usualOhm / resistanceFactor ? deniedAs(header, unit, "mA") : null;
}

/** Undefined where the values may be in their unit. */
function unitTheyLookLike(
  quantity: PlannedColumn["meaning"]["quantity"],
  unit: ColumnUnit,
  converted: Float64Array,
  readIn: string | undefined,
): string | undefined {
  switch (quantity) {
    case "cell-voltage":
      return readIn === unit.symbol ? undefined : readIn;
    case "temperature":
    case "ambient-temperature":
    case "mosfet-temperature":
      return temperatureTheyLookLike(unit, converted);
    case "state-of-charge": {
      const top = quantileOf(converted, 1, sampleLimit);
      if (unit.scale > 1) return top > 1.5 * unit.scale ? "%" : undefined;
      return top > 0 && top <= 1.001 && medianOf(converted, sampleLimit) > 0 ? "0 to 1" : undefined;
    }
    default:
      return undefined;
  }
}

function temperatureTheyLookLike(unit: ColumnUnit, converted: Float64Array): string | undefined {
  const logged = converted.map((value) => (value - unit.offset) / unit.scale).filter((value) => !isAllOnes(value));
  const middle = medianOf(logged, sampleLimit);
  const isPossible = (symbol: string) => {
    const as = unitOfSymbol(symbol);
    const valueC = as === null ? Number.NaN : middle * as.scale + as.offset;
    return valueC >= possibleC.least && valueC <= possibleC.most;
  };
  if (Number.isNaN(middle) || isPossible(unit.symbol)) return undefined;
  return ["degC", "K", "0.1 K", "0.1 degC"].find(isPossible);
}
