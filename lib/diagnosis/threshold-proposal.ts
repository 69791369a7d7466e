import { z } from "zod";
import { whyProposed } from "@/lib/access/why-proposed.schema";
import { defaultDiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import {
  byFullName,
  isSameThreshold,
  type NamedThreshold,
  namedThresholds,
  sayThreshold,
  type ThresholdValue,
} from "@/lib/diagnosis/threshold-fields";
import type { ModelThresholds, PackModel } from "@/lib/packs/pack-model";
import { dateText } from "@/lib/warranty/date-text";

/** What is asked for a proposal besides its thresholds. */
export const thresholdProposalSchema = z.object({
  /** Code of the pack model. */
  model: z.string().regex(/^[A-Z0-9]{1,8}$/, "Choose a model."),
  /** Version the form was filled in from; empty where the model has none yet. */
  onVersion: z.string().max(40),
  validFrom: dateText("The first day"),
  why: whyProposed,
});
export type ThresholdProposal = z.output<typeof thresholdProposalSchema>;

interface Problem {
  readonly field: string;
  readonly sentence: string;
}

export type ProposedThresholds =
  | { readonly kind: "thresholds"; readonly thresholds: ModelThresholds }
  | { readonly kind: "problems"; readonly problems: readonly Problem[] };

/** Pairs of which the first is never above the second: the other way round one rule would silence the other. */
const inOrder: readonly (readonly [string, string])[] = [
  ["verdict.resistanceRatio", "verdict.resistanceClearRatio"],
  ["verdict.resistanceClearZ", "verdict.resistanceZ"],
  ["verdict.weakCapacityRatio", "verdict.smallCapacityRatio"],
  ["verdict.weakCapacityRatioGeneric", "verdict.weakCapacityRatio"],
  ["verdict.imbalancePercent", "verdict.severeImbalancePercent"],
  ["verdict.imbalanceLeastZ", "verdict.imbalanceZ"],
  ["verdict.driftMillivoltPerDay", "verdict.driftQuarantineMillivoltPerDay"],
  ["verdict.driftMillivoltPerDay", "verdict.shortDriftMillivoltPerDay"],
  ["acute.restHeatingKPerMin", "acute.freshRestHeatingKPerMin"],
  ["abuse.lethalV", "abuse.deepV"],
  ["abuse.deepV", "abuse.overDischargeV"],
  ["abuse.overVoltageV", "abuse.criticalOverV"],
  ["measure.restForSpreadS", "measure.restForOpenCircuitS"],
];

/**
 * Reads the thresholds of a proposal from its form, which shows every one of them. Empty, or the usual value, means the usual
 * value, also when that changes with the program; what the form does not name stays as it was. A value outside its range
 * is refused, unless it was there before.
 */
export function readProposedThresholds(
  base: ModelThresholds,
  typed: Readonly<Record<string, unknown>>,
  model: PackModel,
): ProposedThresholds {
  const before = byFullName(base);
  const problems: Problem[] = [];
  const own = namedThresholds.flatMap((one): [NamedThreshold, ThresholdValue][] => {
    const old = before.get(one.name);
    const said = typed[one.name];
    if (typeof said !== "string") return old === undefined ? [] : [[one, old]];
    if (said.trim() === "" || said.trim() === sayThreshold(one.usual)) return [];
    if (old !== undefined && said.trim() === sayThreshold(old)) return [[one, old]];
    const read = readValue(said, one);
    if (typeof read === "string") problems.push({ field: one.name, sentence: `${one.label}: ${read}` });
    return typeof read === "string" || isSameThreshold(read, one.usual) ? [] : [[one, read]];
  });
  if (problems.length > 0) return { kind: "problems", problems };
  const thresholds = inParts(base, own);
  const unsound = contradictions(thresholds, model);
  return unsound.length > 0 ? { kind: "problems", problems: unsound } : { kind: "thresholds", thresholds };
}

/** The value, or why it is none. */
function readValue(said: string, { usual, lowest, highest }: NamedThreshold): ThresholdValue | string {
  const wanted = Array.isArray(usual) ? 2 : 1;
  const parts = said.trim().split(/\s+to\s+/);
  const numbers = parts.map((part) => part.trim().replace(",", "."));
  const [first = "", second = ""] = numbers;
  if (numbers.length !== wanted || !numbers.every((one) => /^-?[0-9]{1,8}([.][0-9]{1,8})?$/.test(one)))
    return wanted === 2 ? "two numbers, as “0.5 to 5”." : "a number, or empty for the usual value.";
  if (numbers.some((one) => Number(one) < lowest || Number(one) > highest))
    return `from ${sayThreshold(lowest)} to ${sayThreshold(highest)} only.`;
  if (wanted === 1) return Number(first);
  return Number(first) < Number(second) ? [Number(first), Number(second)] : "the first number is the smaller one.";
}

/** A fitted calibration of the model stays as it is; what no threshold is named after goes. */
function inParts(base: ModelThresholds, own: readonly [NamedThreshold, ThresholdValue][]): ModelThresholds {
  const parts: Record<string, Record<string, ThresholdValue>> = base.calibration === undefined
    ? {}
    : { calibration: base.calibration };
  for (const [{ part, name }, value] of own) parts[part] = { ...parts[part], [name.slice(part.length + 1)]: value };
  return parts;
}

function contradictions(thresholds: ModelThresholds, model: PackModel): Problem[] {
  const own = byFullName(thresholds);
  const find = (name: string) => namedThresholds.find((one) => one.name === name);
  const value = (name: string) => own.get(name) ?? find(name)?.usual;
  const crossed = inOrder.flatMap(([lower, higher]) => {
    const [below, above] = [value(lower), value(higher)];
    if (typeof below !== "number" || typeof above !== "number" || below <= above) return [];
    const field = own.has(lower) ? lower : higher;
    return [{ field, sentence: `“${find(lower)?.label}” may not be above “${find(higher)?.label}”.` }];
  });
  const { measure, acute } = settingsForModel({ ...model, diagnosis: thresholds }, defaultDiagnosisSettings).settings;
  const [lowestV, highestV] = measure.cellPlausibleV;
  if (lowestV >= model.cellMinV || highestV <= model.cellMaxV + abuseRoomV)
    crossed.push({
      field: "measure.cellPlausibleV",
      sentence: "What can be the voltage of a cell must reach beyond the limits of this model's cells on both sides.",
    });
  // A heat that counts as no reading at all would never be seen by the acute screen.
  if (measure.temperaturePlausibleC[1] < acute.probeRailC)
    crossed.push({
      field: "measure.temperaturePlausibleC",
      sentence: "What can be a temperature must reach as far as a probe that may be shorted.",
    });
  return crossed;
}

/** V over the charge limit that must still be a voltage, so that an overcharge is seen. Engineering default, no source. */
const abuseRoomV = 0.3;
