import { type ColumnMapping, mappingKeys } from "@/lib/readings/column-mapping";
import type { ColumnMeaning } from "@/lib/readings/column-meaning";
import { unitAtEnd } from "@/lib/readings/column-unit";
import type { DayOrder } from "@/lib/readings/date-time";
import type { FoundHeader } from "@/lib/readings/find-header";
import { headerWithoutUnit, headerWords } from "@/lib/readings/header-words";
import { isNoReading, isOfAnotherPlace } from "@/lib/readings/not-a-reading";
import { type OpenOrder, planTime, type TimePlan } from "@/lib/readings/plan-time";
import type { ChosenColumn, FieldReading, PlannedColumn } from "@/lib/readings/planned-column";
import type { Quantity } from "@/lib/readings/quantity";
import { quoted } from "@/lib/readings/reading-value";
import { speaksOfTemperature } from "@/lib/readings/temperature-names";

/** What a column under a heading nobody knows may be a reading of. */
export type PerhapsReading = "temperature" | "current" | "voltage";

export interface ColumnPlan {
  /** Slot n of a decoded row is column n. */
  readonly columns: readonly PlannedColumn[];
  readonly fieldCount: number;
  readonly time: TimePlan;
  readonly dayOrder: DayOrder;
  readonly openDayOrder: OpenOrder | null;
  readonly remarks: readonly string[];
  /** Headings that nobody knows, in the order of the file. */
  readonly unknown: readonly string[];
  /** Fields left out under headings that may be readings of the pack, which nobody has said anything about. */
  readonly unasked: ReadonlyMap<number, PerhapsReading>;
  /** Fields that mean what a field before them means and hold other values, with a sentence each. */
  readonly contradicted: ReadonlyMap<number, string>;
}

export type PlanOutcome =
  | { readonly kind: "plan"; readonly plan: ColumnPlan }
  | {
      readonly kind: "unusable";
      readonly reason: "no-time-column" | "no-cells";
      readonly sentence: string;
    };

/** Headers named in one remark, so that a file of a thousand unknown columns does not fill the page. */
const namedInRemark = 12;

const spokenNames: Readonly<Record<Quantity, string>> = {
  "test-time": "time",
  "unix-time": "time",
  "time-of-some-kind": "time",
  date: "date",
  "pack-voltage": "pack voltage",
  current: "current",
  "charge-current": "current while charging",
  "discharge-current": "current while discharging",
  "cell-voltage": "voltage of cell",
  temperature: "temperature",
  "ambient-temperature": "ambient temperature",
  "mosfet-temperature": "MOSFET temperature",
  "state-of-charge": "state of charge",
  "cycle-count": "cycle count",
  "net-capacity": "net capacity",
  "charge-switch": "charge switch",
  "discharge-switch": "discharge switch",
  "balancing-mask": "balancing mask",
  "protection-flags": "protection flags",
  "other-flags": "protection flags",
  "protection-bit": "protection flag",
  insulation: "insulation resistance",
  serial: "serial",
};

/**
 * Decides what is read from each column, from the header and the first rows (`sample`, already split).
 * One column a meaning: the first wins.
 */
export function planColumns(
  header: FoundHeader,
  sample: readonly (readonly string[])[],
  mapping?: ColumnMapping,
): PlanOutcome {
  const remarks: string[] = [...header.remarks];
  const unknown = header.headers.filter((name, field) => name !== "" && header.meanings[field] === null);
  if (unknown.length > 0) remarks.push(`Columns not used: ${listed(unknown)}.`);
  const unasked = perhapsReadings(header, mapping);
  for (const one of ["temperature", "current", "voltage"] as const) {
    const fields = [...unasked].flatMap(([field, perhaps]) => (perhaps === one ? [header.headers[field] ?? ""] : []));
    if (fields.length > 0)
      remarks.push(`A ${one} may stand under ${listed(fields)}, which is not understood and was not read.`);
  }
  const contradicted = contradictedFields(header, sample);
  const chosen = firstOfEachMeaning(header, remarks);
  const fieldSample = (field: number) => sample.map((row) => row[field] ?? "");

  const time = planTime(chosen, fieldSample);
  if (time.kind === "unusable") return time;
  remarks.push(...time.remarks);

  const cells = chosen.filter((column) => column.meaning.quantity === "cell-voltage");
  if (cells.length === 0 && !chosen.some((column) => column.meaning.quantity === "pack-voltage")) {
    return {
      kind: "unusable",
      reason: "no-cells",
      sentence: `No column of this file is a cell voltage or a pack voltage; its columns are ${listed(header.headers)}.`,
    };
  }
  const lowest = Math.min(...cells.map((column) => column.meaning.number ?? 1));
  const shift = cells.length > 0 && lowest === 0 ? 1 : 0;
  if (shift === 1) remarks.push("The file numbers its cells from 0; they are numbered from 1 here.");

  const columns = chosen.flatMap((column): PlannedColumn[] => {
    const timeReading = time.readings.get(column.field);
    const { quantity, number } = column.meaning;
    if (timeReading !== undefined) return [{ ...column, reading: timeReading, spokenName: spokenNames[quantity] }];
    if (isTimeQuantity(quantity)) return [];
    if (quantity === "cell-voltage") {
      const group = (number ?? 1) + shift;
      return [
        {
          ...column,
          meaning: { ...column.meaning, number: group },
          reading: "number",
          spokenName: `voltage of cell ${group}`,
        },
      ];
    }
    const spokenName =
      quantity === "temperature" ? `${quoted(headerWithoutUnit(column.header))}` : spokenNames[quantity];
    return [{ ...column, reading: readingOf(quantity), spokenName }];
  });
  return {
    kind: "plan",
    plan: {
      columns,
      fieldCount: header.headers.length,
      time: time.plan,
      dayOrder: time.dayOrder,
      openDayOrder: time.openDayOrder,
      remarks,
      unknown,
      unasked,
      contradicted,
    },
  };
}

function perhapsReadings(header: FoundHeader, mapping: ColumnMapping | undefined): Map<number, PerhapsReading> {
  const keys = mappingKeys(header.headers);
  const known = new Set(header.meanings.flatMap((meaning) => (meaning === null ? [] : [meaning.quantity])));
  return new Map(
    header.headers.flatMap((name, field): [number, PerhapsReading][] => {
      const isSaid = mapping !== undefined && Object.hasOwn(mapping, keys[field] ?? "");
      const perhaps = header.meanings[field] === null && !isSaid ? perhapsReading(name, known) : null;
      return perhaps === null ? [] : [[field, perhaps]];
    }),
  );
}

/** By its words or its unit. A current and a voltage are asked about only where the file has none that is understood. */
function perhapsReading(name: string, known: ReadonlySet<Quantity>): PerhapsReading | null {
  if (speaksOfTemperature(name)) return "temperature";
  if (isNoReading(name) || isOfAnotherPlace(name)) return null;
  const dimension = unitAtEnd(headerWords(name))?.dimension;
  const lacks = (...quantities: readonly Quantity[]) => !quantities.some((quantity) => known.has(quantity));
  if (dimension === "current") return lacks("current", "charge-current", "discharge-current") ? "current" : null;
  return dimension === "voltage" && lacks("pack-voltage") ? "voltage" : null;
}

function firstOfEachMeaning(header: FoundHeader, remarks: string[]): ChosenColumn[] {
  const again = repeatedFields(header.headers, header.meanings);
  const chosen = header.meanings.flatMap((meaning, field): ChosenColumn[] =>
    meaning === null || again.has(field) ? [] : [{ field, header: header.headers[field] ?? "", meaning }],
  );
  const repeated = [...again.keys()].map((field) => header.headers[field] ?? "");
  if (repeated.length > 0) remarks.push(`Columns named twice, of which the first is used: ${listed(repeated)}.`);
  return chosen;
}

/** How far two columns of one meaning may differ and still say the same: a share of the larger, and a rounding. Engineering defaults. */
const sameShare = 0.005;
const sameRounding = 0.01;

/** Of two readings of one thing that differ in most of the first rows, one is wrong, or means something else than its heading says. */
function contradictedFields(header: FoundHeader, sample: readonly (readonly string[])[]): Map<number, string> {
  const valueIn = (row: readonly string[], field: number) => {
    const { scale, offset } = header.meanings[field]?.unit ?? { scale: 1, offset: 0 };
    return Number((row[field] ?? "").replace(",", ".") || Number.NaN) * scale + offset;
  };
  const found = new Map<number, string>();
  for (const [again, first] of repeatedFields(header.headers, header.meanings)) {
    if (!isPromisedAlike(header, first, again)) continue;
    const pairs = sample
      .map((row) => [valueIn(row, first), valueIn(row, again)] as const)
      .filter((pair) => pair.every(Number.isFinite));
    const apart = pairs.filter(
      ([a, b]) => Math.abs(a - b) > sameRounding + sameShare * Math.max(Math.abs(a), Math.abs(b)),
    );
    const [one] = apart;
    if (one === undefined || 2 * apart.length <= pairs.length) continue;
    const names = [header.headers[first] ?? "", header.headers[again] ?? ""].map(quoted).join(" and again ");
    found.set(
      again,
      `Two columns mean the same, ${names}, and differ: ${one[0]} and ${one[1]} in one row. The first is used; which of them is right, or what the other is, the file does not say.`,
    );
  }
  return found;
}

const measured: ReadonlySet<Quantity> = new Set<Quantity>([
  "cell-voltage",
  "pack-voltage",
  "current",
  "temperature",
  "ambient-temperature",
  "mosfet-temperature",
]);

/** Readings of one name, or of one group: a pack voltage may well be measured in two places that have names of their own. */
function isPromisedAlike({ headers, meanings }: FoundHeader, first: number, again: number): boolean {
  const quantity = meanings[first]?.quantity;
  if (quantity === undefined || !measured.has(quantity)) return false;
  const [one, other] = [first, again].map((field) => headerWithoutUnit(headers[field] ?? "").toLowerCase());
  return quantity === "cell-voltage" || one === other;
}

/** Fields that mean what a field before them means, which is given with each: left out unless a person says otherwise. */
export function repeatedFields(
  headers: readonly string[],
  meanings: readonly (ColumnMeaning | null)[],
): ReadonlyMap<number, number> {
  const seen = new Map<string, number>();
  const repeated = new Map<number, number>();
  meanings.forEach((meaning, field) => {
    if (meaning === null) return;
    // Sensors and flags of unknown lists are told apart by their full name: "T1" and "Cell temperature 1" are two sensors.
    const name =
      meaning.quantity === "temperature" || meaning.quantity === "other-flags"
        ? `${meaning.quantity} ${headerWithoutUnit(headers[field] ?? "").toLowerCase()}`
        : `${meaning.quantity} ${meaning.number}`;
    const key = `${name} ${meaning.isLeftOut === true}`;
    const first = seen.get(key);
    if (first === undefined) seen.set(key, field);
    else repeated.set(field, first);
  });
  return repeated;
}

function isTimeQuantity(quantity: Quantity): boolean {
  return (
    quantity === "test-time" || quantity === "unix-time" || quantity === "time-of-some-kind" || quantity === "date"
  );
}

const bitQuantities: ReadonlySet<Quantity> = new Set([
  "balancing-mask",
  "protection-flags",
  "other-flags",
  "protection-bit",
]);

function readingOf(quantity: Quantity): FieldReading {
  if (quantity === "serial") return "serial";
  if (quantity === "charge-switch" || quantity === "discharge-switch") return "switch";
  return bitQuantities.has(quantity) ? "bits" : "number";
}

/** Headings in a sentence, the first of them by name. */
export function listed(names: readonly string[]): string {
  const shown = names.slice(0, namedInRemark).map(quoted).join(", ");
  return names.length > namedInRemark ? `${shown} and ${names.length - namedInRemark} more` : shown;
}
