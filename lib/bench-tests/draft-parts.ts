import type { TestLimits } from "./test-definition.schema";

export interface DraftFacts {
  readonly groups: number;
  readonly ratedCapacityAh: number;
  readonly cellMinV: number;
  readonly cellMaxV: number;
  readonly continuousDischargeA: number;
  /** Healthy resistance of one series group; null where the model does not say. */
  readonly groupResistanceMilliohm: number | null;
}

export const HOT_OR_GAS =
  "Hot, swelling, hissing, smoking or smelling: leave it, warn the others, follow the emergency card. Local rules come first.";
export const LIVE =
  "High-energy direct current that cannot be switched off. Trained people only, insulated tools, no metal on hands or wrists; local rules and the house's own come first.";
export const LOADED = `${LIVE} Under load watch the temperature, keep the extinguishing means of the place at hand, and never leave it alone.`;

export const practice = (lower: number | null, upper: number | null, sourceNote: string): TestLimits => ({
  lower,
  upper,
  source: "common-practice",
  sourceNote,
});
export const ofModel = (lower: number | null, upper: number | null, sourceNote: string): TestLimits => ({
  lower,
  upper,
  source: "model-data",
  sourceNote,
});
export const ofBuild = (lower: number | null, upper: number | null, sourceNote: string): TestLimits => ({
  lower,
  upper,
  source: "build-limit",
  sourceNote,
});

/** What most tests of a first plan have in common. */
export const plainTest = { caution: "", isDestructive: false, beside: [] as string[] } as const;
export const look = (expected: string) => ({ kind: "look", expected }) as const;

/** Three significant digits: a limit that pretends to more would not be kept anyway. */
export function rounded(value: number): number {
  return Number(value.toPrecision(3));
}
