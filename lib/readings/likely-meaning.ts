import type { ColumnMeaning } from "@/lib/readings/column-meaning";
import { type Dimension, unitAtEnd } from "@/lib/readings/column-unit";
import { headerWords } from "@/lib/readings/header-words";
import { isTime } from "@/lib/readings/lacks-time";
import { type LikelyMeaning, likelyGroups } from "@/lib/readings/likely-groups";
import { isNoReading, isOfAnotherPlace, isRowCount } from "@/lib/readings/not-a-reading";
import type { Quantity } from "@/lib/readings/quantity";
import { speaksOfTemperature } from "@/lib/readings/temperature-names";

/** A pack of this many volts has more than one group; less may be a group's (common practice, no source). */
const PACK_FROM_V = 5;
/** How far the steps of a clock may differ from one another, as a share of the first (engineering default, no authority). */
const STEP_SPREAD = 0.1;

/**
 * Proposals for the columns whose headings nobody knows, by what else the heading tells (a unit, a number), by the columns of
 * the same name, and by the first values. `meanings` by position, null where unknown; `rows` are fields as text. Nothing is proposed
 * that another column of the file is already known to be, nor where two columns could be the same thing: the doubt is the person's.
 */
export function likelyMeanings(
  headers: readonly string[],
  meanings: readonly (ColumnMeaning | null)[],
  rows: readonly (readonly string[])[],
): ReadonlyMap<number, LikelyMeaning> {
  const values = headers.map((_, field) => rows.map((row) => numberIn(row[field] ?? "")));
  const known = new Set<Quantity>(meanings.flatMap((meaning) => (meaning === null ? [] : [meaning.quantity])));
  const unknown = headers.map((header, field) => (meanings[field] === null ? header : null));
  const found = new Map<number, LikelyMeaning>(known.has("cell-voltage") ? [] : likelyGroups(unknown, values));
  const likely = new Map<number, LikelyMeaning>();
  for (const [field, header] of unknown.entries()) {
    if (header === null || found.has(field)) continue;
    const own = byUnit(header, values[field] ?? []);
    if (own !== null) likely.set(field, own);
  }
  const lacksTime = ![...known].some(isTime);
  const timed = lacksTime && ![...likely.values()].some(({ quantity }) => isTime(quantity));
  const clock = timed ? loneClock(unknown, values, found) : null;
  if (clock !== null && !likely.has(clock)) likely.set(clock, asTime);

  for (const [field, one] of likely) {
    const rivals = [...likely.values()].filter(({ quantity }) => quantity === one.quantity).length;
    if (one.quantity !== "temperature" && (known.has(one.quantity) || rivals > 1)) continue;
    if (isTime(one.quantity) && !lacksTime) continue;
    found.set(field, one);
  }
  return found;
}

const notKnown = "This heading is not known";
const asTime: LikelyMeaning = {
  quantity: "test-time",
  number: null,
  unit: null,
  why: `${notKnown}, but its values rise from row to row as the time does.`,
};

/**
 * The only column that rises from row to row, where it does so as a clock: from its start, in even steps. Null where several rise
 * (a warmth and a distance do as well), and for a step of one, which may be seconds or the number of the row.
 */
function loneClock(
  unknown: readonly (string | null)[],
  values: readonly (readonly number[])[],
  groups: ReadonlyMap<number, LikelyMeaning>,
): number | null {
  const rising = unknown.flatMap((header, field) =>
    header !== null && !groups.has(field) && rises(values[field] ?? []) ? [field] : [],
  );
  const [field] = rising;
  if (field === undefined || rising.length > 1) return null;
  const header = unknown[field] ?? "";
  const [first = Number.NaN, second = Number.NaN] = values[field] ?? [];
  const step = second - first;
  const isEven = (values[field] ?? []).every(
    (value, at, all) => at === 0 || Math.abs(value - (all[at - 1] ?? 0) - step) <= STEP_SPREAD * step,
  );
  const isClock = isEven && step !== 1 && first >= 0 && first <= step;
  return isClock && !isNoReading(header) && !isRowCount(header) && !isOfAnotherPlace(header) ? field : null;
}

/** No share here: a charge, a health, a duty and a brightness are all written in percent. */
const ofDimension: Readonly<Partial<Record<Dimension, Quantity>>> = {
  current: "current",
  time: "test-time",
  temperature: "temperature",
  voltage: "pack-voltage",
};

function byUnit(header: string, values: readonly number[]): LikelyMeaning | null {
  const words = headerWords(header);
  const unit = unitAtEnd(words);
  const quantity = unit === null ? undefined : ofDimension[unit.dimension];
  if (isOfAnotherPlace(header) || isNoReading(header)) return null;
  const isSpoken = speaksOfTemperature(header);
  if (unit === null && isSpoken && values.length > 0 && !values.some(Number.isNaN))
    return { quantity: "temperature", number: null, unit: null, why: `${notKnown}, but it speaks of a temperature.` };
  if (unit === null || quantity === undefined) return null;
  // A bare C is as often the rate of a charge as a degree.
  if (words.at(-1) === "c" && !isSpoken) return null;
  if (quantity === "test-time" && (!rises(values) || isRowCount(header))) return null;
  if (quantity === "pack-voltage" && !values.every((value) => value * unit.scale >= PACK_FROM_V)) return null;
  // What never moves may be a limit or a setting.
  if ((quantity === "current" || quantity === "pack-voltage") && new Set(values).size < 2) return null;
  return { quantity, number: null, unit: unit.symbol, why: `${notKnown}; what it is was told from its unit.` };
}

function rises(values: readonly number[]): boolean {
  return values.length > 1 && values.every((value, at) => at === 0 || value > (values[at - 1] ?? Number.NaN));
}

/** The number of a field with a point or a comma before its decimals; NaN where it is none. */
function numberIn(field: string): number {
  const text = field.trim();
  return /^[+-]?\d+(?:[.,]\d+)?$/.test(text) ? Number(text.replace(",", ".")) : Number.NaN;
}
