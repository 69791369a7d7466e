import { chargeToCutOff } from "@/lib/diagnosis/built-beside-found";

/** From these rules on a full discharge is called a capacity only where load, warmth and current sensor let it be one. */
const CAPACITY_LOOKED_AT_FROM = "2026-11-u";

/**
 * Measurements as they were stored, by the names they have now. What older rules called a capacity may be a discharge that a peak or
 * the cold ended, and neither is on record: it is shown as what came out, and nothing is judged by it.
 */
export function keptMeasurements<Row extends { readonly name: string; readonly conditions?: string }>(
  measurements: readonly Row[],
  ruleVersion: string | null,
): readonly Row[] {
  if (ruleVersion === null || ruleVersion >= CAPACITY_LOOKED_AT_FROM) return measurements;
  return measurements.map((row) =>
    row.name === "capacity-full-discharge"
      ? {
          ...row,
          name: chargeToCutOff,
          ...(row.conditions === undefined ? {} : { conditions: `${row.conditions}; ${notLookedAt}` }),
        }
      : row,
  );
}

const notLookedAt = "no capacity: the rules of that day did not look at load and warmth where it ended";
