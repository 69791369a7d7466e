import { medianOf } from "@/lib/readings/median";
import type { Measurement } from "./finding";

export interface GroupBesideGroup {
  readonly group: number;
  readonly builtMilliohm: number | null;
  readonly foundMilliohm: number | null;
  /** One standard uncertainty of what was found. */
  readonly uncertaintyMilliohm: number | null;
  /** How much this group rose against the middle group of the pack, as a factor; null where one side is missing. */
  readonly growth: number | null;
  readonly standsOut: boolean;
}

export interface ResistanceBeside {
  readonly groups: readonly GroupBesideGroup[];
  /** How the found values were measured; null where none was. */
  readonly found: { readonly name: string; readonly method: string; readonly conditions: string } | null;
}

/**
 * A group that rose this much more than the middle one is marked. The factor is the threshold at which the log's own
 * resistances are called high; engineering default, no authority.
 */
export const GROWTH_THAT_STANDS_OUT = 1.15;

const milliohmIn: Readonly<Record<string, number>> = {
  mOhm: 1,
  milliohm: 1,
  mΩ: 1,
  Ohm: 1000,
  ohm: 1000,
  Ω: 1000,
  uOhm: 0.001,
  µΩ: 0.001,
};

/**
 * The resistance of each group at the end of the line beside what the log shows.
 *
 * The two come from different tests, at another charge and temperature, so their heights must not be compared. What can
 * be is the pattern: each group's found over built value, divided by the median of that over the pack. Of several found
 * resistances the kind that most groups have is taken, and among equals the first by name; kinds are never mixed.
 */
export function resistanceBeside(
  builtMilliohm: readonly number[],
  measurements: readonly Measurement[],
): ResistanceBeside {
  const kind = mostCommonKind(measurements);
  const found = new Map(kind.map((row) => [row.group, row]));
  const count = Math.max(builtMilliohm.length, ...kind.map(({ group }) => group ?? 0));
  const pairs = Array.from({ length: count }, (_, index) => {
    const row = found.get(index + 1);
    const factor = row === undefined ? 0 : (milliohmIn[row.unit] ?? 0);
    return {
      group: index + 1,
      builtMilliohm: builtMilliohm[index] ?? null,
      foundMilliohm: row === undefined ? null : row.value * factor,
      uncertaintyMilliohm: row === undefined || row.uncertainty === null ? null : row.uncertainty * factor,
    };
  });
  const rises = pairs.map(({ builtMilliohm: built, foundMilliohm }) =>
    built === null || built <= 0 || foundMilliohm === null ? Number.NaN : foundMilliohm / built,
  );
  const middle = medianOf(Float64Array.from(rises));
  const [first] = kind;
  return {
    groups: pairs.map((pair, index) => {
      const growth = (rises[index] ?? Number.NaN) / middle;
      const isKnown = Number.isFinite(growth);
      return { ...pair, growth: isKnown ? growth : null, standsOut: isKnown && growth >= GROWTH_THAT_STANDS_OUT };
    }),
    found: first === undefined ? null : { name: first.name, method: first.method, conditions: first.conditions },
  };
}

/** Median over the groups of the found resistances, with the name of their kind; null where none was found. */
export function foundMiddle(measurements: readonly Measurement[]): { name: string; milliohm: number } | null {
  const [first] = mostCommonKind(measurements);
  const milliohm = first === undefined ? null : milliohmOfKind(measurements, first.name);
  return first === undefined || milliohm === null ? null : { name: first.name, milliohm };
}

/** Median over the groups of the resistances of one kind, milliohm; null where none was found. */
export function milliohmOfKind(measurements: readonly Measurement[], kind: string): number | null {
  const ofGroups = measurements.filter(({ name, group }) => name === kind && group !== null);
  const milliohm = medianOf(Float64Array.from(ofGroups, ({ value, unit }) => value * (milliohmIn[unit] ?? Number.NaN)));
  return Number.isFinite(milliohm) ? milliohm : null;
}

function mostCommonKind(measurements: readonly Measurement[]): Measurement[] {
  const kinds = new Map<string, Measurement[]>();
  for (const row of measurements) {
    if (row.group === null || !row.name.startsWith("resistance-") || milliohmIn[row.unit] === undefined) continue;
    kinds.set(row.name, [...(kinds.get(row.name) ?? []), row]);
  }
  const ordered = [...kinds].sort(([nameA, a], [nameB, b]) => b.length - a.length || (nameA < nameB ? -1 : 1));
  return ordered[0]?.[1] ?? [];
}

/** What came out of a full pack to its cut-off where that was reached under a peak or in the cold: no capacity, and so not named one. */
export const chargeToCutOff = "charge-to-cut-off";

/** Capacities found for the whole pack, to stand beside the one it was built with. */
export function packCapacities(measurements: readonly Measurement[]): Measurement[] {
  return measurements.filter(({ name, group, unit }) => name.includes("capacity") && group === null && unit === "Ah");
}

/**
 * What the groups found would sag by together under the current of the load test, in volts: the sum of their resistances
 * times that current. Leads, links outside the taps and the switches are not in it, so it lies below what a load test
 * would show. Null unless every group of the pack was measured.
 */
export function sagOfGroupsV(groups: readonly GroupBesideGroup[], currentA: number): number | null {
  const found = groups.map(({ foundMilliohm }) => foundMilliohm);
  if (found.length === 0 || found.includes(null)) return null;
  return (found.reduce<number>((sum, milliohm) => sum + (milliohm ?? 0), 0) * currentA) / 1000;
}
