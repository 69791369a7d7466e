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
  readonly fields: Readonly<Record<string, ThresholdField>>;
  /** What its fields are about, by how their names begin: the first that fits; each field has one. */
  readonly subjects: readonly (readonly [title: string, begins: RegExp])[];
}

const thresholdParts: readonly PartOfThresholds[] = [
  {
    part: "verdict",
    fields: verdictFields,
    subjects: [
      ["Finding: resistance of a group", /^(resistance|unsteady|contact|loadShare|wholePack)/],
      ["Finding: weak group and capacity", /^(weak|small|capacity|generic|damaged|wornOut|packCapacity)/],
      ["Finding: imbalance and shifted readings", /^(imbalance|severe|shape|standingReading|unexplained)/],
      ["Finding: fall at rest, water", /^(drift|shortDrift|standingDraw|wet|balanced|insulation)/],
      ["Finding: leads and fuse", /^lead/],
      ["Finding: switches and warmth", /^(switch|gradient|loadedPer|evenedOut)/],
      ["Finding: outside cause, alarms", /(CauseS$)|^(longOverload|coldBy|hotBy|alarm|others|beyond)/],
      ["Finding: how sure a verdict must be", /^/],
    ],
  },
  { part: "leak", fields: leakFields, subjects: [["When a fall at rest is a leak", /^/]] },
  {
    part: "acute",
    fields: acuteFields,
    subjects: [
      ["Acute danger: voltages that fall", /^(pack|group|collapse|unread|fallSettled)/],
      ["Acute danger: heat, or a probe at fault", /^(probe|leap|jump|witness|held|leads|no|impossible|switch)/],
      ["Acute danger: heat that rises", /^/],
    ],
  },
  { part: "abuse", fields: abuseFields, subjects: [["Use outside the limits", /^/]] },
  { part: "tap", fields: tapFields, subjects: [["Sense wires", /^/]] },
  { part: "probe", fields: probeFields, subjects: [["Temperature probes", /^/]] },
  {
    part: "measure",
    fields: measureFields,
    subjects: [
      ["Measured: current through a rest", /^(draw|unlogged)/],
      ["Measured: what is good enough", /^/],
    ],
  },
];

export interface NamedThreshold extends ThresholdField {
  readonly part: ThresholdPart;
  /** What it is about, in the words under which it is folded away. */
  readonly subject: string;
  /** Part and name, as stored and as on the form: "verdict.imbalancePercent". */
  readonly name: string;
  readonly usual: ThresholdValue;
}

/** Every threshold that can be proposed, subject by subject. Throws RangeError where a field has no usual value. */
export const namedThresholds: readonly NamedThreshold[] = thresholdParts.flatMap(({ part, fields, subjects }) => {
  const usual = new Map(Object.entries(defaultDiagnosisSettings[part]));
  const named = Object.entries(fields).map(([key, one]) => {
    const value: unknown = usual.get(key);
    if (!isThresholdValue(value)) throw new RangeError(`${part}.${key}: a field without a usual value`);
    const [subject] = subjects.find(([, begins]) => begins.test(key)) ?? [];
    if (subject === undefined) throw new RangeError(`${part}.${key}: a field without a subject`);
    return { ...one, part, subject, name: `${part}.${key}`, usual: value };
  });
  return subjects.flatMap(([subject]) => named.filter((one) => one.subject === subject));
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
