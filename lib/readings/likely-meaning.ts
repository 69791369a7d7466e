import type { ColumnMeaning } from "@/lib/readings/column-meaning";
import { type Dimension, unitOfWord } from "@/lib/readings/column-unit";
import { headerWords, headingStem } from "@/lib/readings/header-words";
import { isTime } from "@/lib/readings/lacks-time";
import type { Quantity } from "@/lib/readings/quantity";

/** What a column with an unknown heading is most likely; a proposal, which a person confirms. */
export interface LikelyMeaning {
  readonly quantity: Quantity;
  readonly number: number | null;
  /** Symbol of the unit; null leaves it to the size of the values. */
  readonly unit: string | null;
  readonly why: string;
}

/** Fewest neighbours of one name that are taken for the groups of a pack (engineering default, no authority). */
const FEWEST_GROUPS = 4;
/** No lithium-ion group in use stands outside these voltages, V (common practice, no source). */
const GROUP_FROM_V = 1.5;
const GROUP_TO_V = 4.5;
/** A pack of this many volts has more than one group; less may be a group's (common practice, no source). */
const PACK_FROM_V = 5;

type Values = readonly (readonly number[])[];

/**
 * Proposals for the columns whose headings nobody knows, by what else the heading tells (a unit, a number), by neighbours of the
 * same name, and by the first values. `meanings` by position, null where unknown; `rows` are fields as text. Nothing is proposed
 * that another column of the file is already known to be.
 */
export function likelyMeanings(
  headers: readonly string[],
  meanings: readonly (ColumnMeaning | null)[],
  rows: readonly (readonly string[])[],
): ReadonlyMap<number, LikelyMeaning> {
  const values = headers.map((_, field) => rows.map((row) => numberIn(row[field] ?? "")));
  const found = groupsOfOneName(headers, meanings, values);
  const taken = new Set<Quantity>(meanings.flatMap((meaning) => (meaning === null ? [] : [meaning.quantity])));
  let lacksTime = !meanings.some((meaning) => meaning !== null && isTime(meaning.quantity));
  for (const [field, header] of headers.entries()) {
    if (meanings[field] !== null || found.has(field)) continue;
    const own = values[field] ?? [];
    const likely = byUnit(header, own) ?? (lacksTime && rises(own) ? asTime : null);
    if (likely === null || (likely.quantity !== "temperature" && taken.has(likely.quantity))) continue;
    if (likely.quantity === "test-time" && !lacksTime) continue;
    taken.add(likely.quantity);
    lacksTime &&= likely.quantity !== "test-time";
    found.set(field, likely);
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

function groupsOfOneName(
  headers: readonly string[],
  meanings: readonly (ColumnMeaning | null)[],
  values: Values,
): Map<number, LikelyMeaning> {
  const found = new Map<number, LikelyMeaning>();
  if (meanings.some((meaning) => meaning?.quantity === "cell-voltage")) return found;
  const unit = (field: number) => groupUnit(values[field] ?? []);
  let from = 0;
  while (from < headers.length) {
    let to = from + 1;
    while (to < headers.length && isLike(from, to)) to += 1;
    if (to - from >= FEWEST_GROUPS && meanings[from] === null && unit(from) !== null) {
      for (let field = from; field < to; field += 1)
        found.set(field, {
          quantity: "cell-voltage",
          number: field - from + 1,
          unit: unit(from),
          why: `${notKnown}, but its values look like the voltage of a cell group.`,
        });
      return found;
    }
    from = to;
  }
  return found;

  function isLike(one: number, other: number): boolean {
    return (
      meanings[other] === null &&
      headingStem(headers[one] ?? "") === headingStem(headers[other] ?? "") &&
      unit(one) === unit(other)
    );
  }
}

/** "V" or "mV" where every value is one of a group in that unit; null where they are not, or there are none. */
function groupUnit(values: readonly number[]): "V" | "mV" | null {
  if (values.length === 0) return null;
  for (const [unit, scale] of [
    ["V", 1],
    ["mV", 1000],
  ] as const) {
    if (values.every((value) => value >= GROUP_FROM_V * scale && value <= GROUP_TO_V * scale)) return unit;
  }
  return null;
}

const ofDimension: Readonly<Partial<Record<Dimension, Quantity>>> = {
  current: "current",
  time: "test-time",
  share: "state-of-charge",
  temperature: "temperature",
  voltage: "pack-voltage",
};

function byUnit(header: string, values: readonly number[]): LikelyMeaning | null {
  const words = headerWords(header);
  const unit = words.length > 1 ? unitOfWord(words.at(-1) ?? "") : null;
  const quantity = unit === null ? undefined : ofDimension[unit.dimension];
  if (unit === null || quantity === undefined) return null;
  if (quantity === "test-time" && !rises(values)) return null;
  if (quantity === "pack-voltage" && !values.every((value) => value * unit.scale >= PACK_FROM_V)) return null;
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
