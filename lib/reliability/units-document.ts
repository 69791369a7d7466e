import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { curveWarnings } from "./curve-warnings";
import type { UnitGroup } from "./unit-groups";

export interface GroupDocument {
  readonly group: string;
  readonly units: number;
  readonly failures: number;
  readonly survival: readonly {
    readonly age: number;
    readonly atRisk: number;
    readonly failures: number;
    readonly survival: number;
    readonly standardError: number;
    readonly lower: number;
    readonly upper: number;
  }[];
  readonly warnings: readonly string[];
}

export interface UnitsDocument {
  readonly groups: readonly GroupDocument[];
}

/** The document that the reliability command prints: counts, survival with 95 % log-log limits, and warnings. */
export function unitsDocument(groups: readonly UnitGroup[]): UnitsDocument {
  return { groups: groups.map(groupDocument) };
}

function groupDocument({ group, counts, refusals }: UnitGroup): GroupDocument {
  const curve = kaplanMeier(counts);
  return {
    group,
    units: curve.units,
    failures: curve.failures,
    survival: curve.steps.map(({ age, atRisk, failures, survival, standardError, lower, upper }) => ({
      age,
      atRisk,
      failures,
      survival,
      standardError,
      lower,
      upper,
    })),
    warnings: curveWarnings(curve, refusals),
  };
}
