import { type DiagnosisSettings, defaultDiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { ThresholdField } from "@/lib/diagnosis/threshold-field";
import { leakFields } from "@/lib/diagnosis/threshold-fields-leak";
import {
  abuseFields,
  acuteFields,
  measureFields,
  probeFields,
  tapFields,
} from "@/lib/diagnosis/threshold-fields-readings";
import { verdictFields } from "@/lib/diagnosis/threshold-fields-verdict";
import type { ModelThresholds } from "@/lib/packs/pack-model";

/** A number, or a range of two. */
export type ThresholdValue = ModelThresholds[string][string];

/** The calibration is fitted to confirmed findings as a whole (tests/bench/diagnosis), so no single number of it is proposed. */
export type ThresholdPart = Exclude<keyof DiagnosisSettings, "calibration">;

interface PartOfThresholds {
  readonly part: ThresholdPart;
  readonly title: string;
  readonly fields: Readonly<Record<string, ThresholdField>>;
}

export const thresholdParts: readonly PartOfThresholds[] = [
  { part: "verdict", title: "When a measurement becomes a finding", fields: verdictFields },
  { part: "leak", title: "When a fall at rest is a leak", fields: leakFields },
  { part: "acute", title: "Signs of acute danger", fields: acuteFields },
  { part: "abuse", title: "Use outside the limits", fields: abuseFields },
  { part: "tap", title: "Sense wires", fields: tapFields },
  { part: "probe", title: "Temperature probes", fields: probeFields },
  { part: "measure", title: "What is good enough to be measured on", fields: measureFields },
];

export interface NamedThreshold extends ThresholdField {
  readonly part: ThresholdPart;
  /** Part and name, as stored and as on the form: "verdict.imbalancePercent". */
  readonly name: string;
  readonly usual: ThresholdValue;
}

/** Every threshold that can be proposed, in the order of the parts. Throws RangeError where a field has no usual value. */
export const namedThresholds: readonly NamedThreshold[] = thresholdParts.flatMap(({ part, fields }) => {
  const usual = new Map(Object.entries(defaultDiagnosisSettings[part]));
  return Object.entries(fields).map(([key, one]) => {
    const value: unknown = usual.get(key);
    if (!isThresholdValue(value)) throw new RangeError(`${part}.${key}: a field without a usual value`);
    return { ...one, part, name: `${part}.${key}`, usual: value };
  });
});

function isThresholdValue(value: unknown): value is ThresholdValue {
  const isNumber = (one: unknown) => typeof one === "number";
  return isNumber(value) || (Array.isArray(value) && value.length === 2 && value.every(isNumber));
}

/** Thresholds of a model as one list by full name; what no field is named after is kept under its own name. */
export function byFullName(thresholds: ModelThresholds): Map<string, ThresholdValue> {
  return new Map(
    Object.entries(thresholds).flatMap(([part, values]) =>
      Object.entries(values).map(([name, value]): [string, ThresholdValue] => [`${part}.${name}`, value]),
    ),
  );
}

/** "4", or "0.5 to 5"; long fractions to four digits. */
export function sayThreshold(value: ThresholdValue): string {
  return (typeof value === "number" ? [value] : value).map((one) => String(Number(one.toPrecision(4)))).join(" to ");
}

export function isSameThreshold(one: ThresholdValue | undefined, other: ThresholdValue | undefined): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}

const unitless = ["ratio", "share", "times", "count", "z"];

/** The value with its unit, where it has one a reader needs. */
export function sayWithUnit(value: ThresholdValue, { unit }: Pick<ThresholdField, "unit">): string {
  return unitless.includes(unit) ? sayThreshold(value) : `${sayThreshold(value)} ${unit}`;
}

/** What one set of thresholds of a model changes against another, in sentences. */
export function thresholdChanges(before: ModelThresholds, after: ModelThresholds): string[] {
  const [was, is] = [byFullName(before), byFullName(after)];
  const known = namedThresholds.flatMap((one) => {
    const [old, next] = [was.get(one.name), is.get(one.name)];
    if (isSameThreshold(old, next)) return [];
    const say = (value: ThresholdValue | undefined) =>
      value === undefined ? `${sayWithUnit(one.usual, one)} (usual)` : sayWithUnit(value, one);
    return [`${one.label}: ${say(old)} before, ${say(next)} from then on.`];
  });
  const names = new Set(namedThresholds.map(({ name }) => name));
  const lost = [...was.keys()].filter((name) => !names.has(name) && !is.has(name));
  return [...known, ...lost.map((name) => `${name} is left out: no threshold has this name.`)];
}
