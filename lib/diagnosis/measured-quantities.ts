import { sayKnownTo, sayQuantity, sayUncertain } from "@/lib/diagnosis/quantity-words";

/** One number taken from a file, as it is kept. */
export interface KeptMeasurement {
  readonly name: string;
  /** Series group from 1; null for the whole pack. */
  readonly group: number | null;
  readonly value: number;
  readonly unit: string;
  /** One standard uncertainty, in the unit of the value; null where none was stated. */
  readonly uncertainty: number | null;
  readonly method: string;
  readonly conditions: string;
}

/** One quantity with all its values, so that twenty groups are one line that can be opened. */
export interface MeasuredQuantity<Measured extends KeptMeasurement> {
  readonly name: string;
  readonly title: string;
  /** Whole pack first, then the groups in order. */
  readonly values: readonly Measured[];
  /** The value, or how many there are and between which they lie. */
  readonly said: string;
  /** Of a single value; null where there are several, each of which has its own. */
  readonly saidUncertainty: string | null;
  /** How it was measured and under which conditions, where that is the same for all its values. */
  readonly method: string | null;
  readonly conditions: string | null;
}

/** Measurements put together by quantity, in the order in which each was first measured. */
export function measuredQuantities<Measured extends KeptMeasurement>(
  measurements: readonly Measured[],
): MeasuredQuantity<Measured>[] {
  const byName = new Map<string, Measured[]>();
  for (const measurement of measurements) {
    const known = byName.get(measurement.name);
    if (known === undefined) byName.set(measurement.name, [measurement]);
    else known.push(measurement);
  }
  return [...byName].map(([name, members]) => {
    const values = members.toSorted((a, b) => (a.group ?? 0) - (b.group ?? 0));
    return {
      name,
      title: quantityTitle(name),
      values,
      said: sayValues(values),
      saidUncertainty: values.length === 1 && values[0] !== undefined ? sayUncertainty(values[0]) : null,
      method: commonTo(values.map(({ method }) => method)),
      conditions: commonTo(values.map(({ conditions }) => conditions)),
    };
  });
}

/** A value as far as its uncertainty lets it be told; the uncertainty stands beside it. */
export function sayValue({ value, uncertainty, unit }: KeptMeasurement): string {
  return uncertainty === null ? sayQuantity(value, unit) : sayKnownTo(value, uncertainty, unit);
}

export function sayUncertainty({ uncertainty, unit }: KeptMeasurement): string {
  return uncertainty === null ? "uncertainty not stated" : `± ${sayUncertain(uncertainty, unit)}`;
}

/** "Resistance 10 s" for `resistance-10s`. */
export function quantityTitle(name: string): string {
  const words = name.replaceAll("-", " ").replace(/\b(\d+)s\b/, "$1 s");
  return `${words.slice(0, 1).toUpperCase()}${words.slice(1)}`;
}

/** Whole pack and groups are not one range: a pack of twenty groups has twenty times a group's resistance. */
function sayValues(values: readonly KeptMeasurement[]): string {
  const [first] = values;
  if (first === undefined) return "";
  if (values.length === 1) return sayValue(first);
  const groups = values.filter(({ group }) => group !== null);
  const whole = values.filter(({ group }) => group === null);
  const parts = [
    ...(whole.length === 0 ? [] : [sayRange(whole)]),
    ...(groups.length === 0
      ? []
      : [`${groups.length} ${groups.length === 1 ? "group" : "groups"} ${sayRange(groups)}`]),
  ];
  return parts.join("; ");
}

function sayRange(values: readonly KeptMeasurement[]): string {
  const unit = values[0]?.unit ?? "";
  const lowest = Math.min(...values.map(({ value }) => value));
  const highest = Math.max(...values.map(({ value }) => value));
  return lowest === highest
    ? sayQuantity(lowest, unit)
    : `${sayQuantity(lowest, "1")} to ${sayQuantity(highest, unit)}`;
}

function commonTo(sentences: readonly string[]): string | null {
  const [first] = sentences;
  return first !== undefined && sentences.every((one) => one === first) ? first : null;
}
