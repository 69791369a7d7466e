import { unitAtEnd } from "@/lib/readings/column-unit";
import { groupNumbers } from "@/lib/readings/group-numbers";
import { headerWords, headingStem } from "@/lib/readings/header-words";
import { isNoReading, isOfAnotherPlace, isProbe } from "@/lib/readings/not-a-reading";
import type { Quantity } from "@/lib/readings/quantity";

/** What a column with an unknown heading is most likely; a proposal, which a person confirms. */
export interface LikelyMeaning {
  readonly quantity: Quantity;
  readonly number: number | null;
  /** Symbol of the unit; null leaves it to the size of the values. */
  readonly unit: string | null;
  readonly why: string;
}

/** Fewest columns of one name that are taken for the groups of a pack (engineering default, no authority). */
const FEWEST_GROUPS = 4;
/** Share of those columns whose values must be those of a group; the others are its dead ones (engineering default, no authority). */
const MOST_GROUPS = 0.75;
/** No lithium-ion group in use stands outside these voltages, V (common practice, no source). */
const GROUP_FROM_V = 1.5;
const GROUP_TO_V = 4.5;
/** A group beside a broken wire reads for two, and no more than this, V (engineering default, no authority). */
const ODD_TO_V = 10;

const looksLike = "This heading is not known, but its values look like the voltage of a cell group.";
const isOneOfThem =
  "This heading is not known; the other columns of its name look like the voltages of cell groups, though the values of this one do not. Look at it before you confirm.";

/**
 * The columns that are most likely the groups of a pack, by field: those that share a name, where most values of most of them are
 * those of a group. A dead group, a lost wire or an empty field stays with its name. `unknown` are the headings, null where known;
 * `values` the first numbers of each column, NaN where a field holds none. Empty where no name or more than one qualifies, and where
 * it is in doubt which column is which group.
 */
export function likelyGroups(
  unknown: readonly (string | null)[],
  values: readonly (readonly number[])[],
): ReadonlyMap<number, LikelyMeaning> {
  const fieldsOfStem = new Map<string, number[]>();
  for (const [field, header] of unknown.entries()) {
    if (header === null || isNoReading(header) || isOfAnotherPlace(header) || isProbe(header)) continue;
    const stem = headingStem(header);
    fieldsOfStem.set(stem, [...(fieldsOfStem.get(stem) ?? []), field]);
  }
  const candidates = [...fieldsOfStem.values()].flatMap((fields) => {
    if (fields.length < FEWEST_GROUPS) return [];
    const headers = fields.map((field) => unknown[field] ?? "");
    const own = fields.map((field) => values[field] ?? []);
    const unit = unitOfGroups(headers, own);
    return unit === null ? [] : [{ fields, headers, unit }];
  });
  const [only] = candidates;
  const numbers = only === undefined || candidates.length > 1 ? null : groupNumbers(only.headers);
  if (only === undefined || numbers === null) return new Map();
  return new Map(
    only.fields.map((field, at): [number, LikelyMeaning] => [
      field,
      {
        quantity: "cell-voltage",
        number: numbers[at] ?? null,
        unit: only.unit,
        why: isGroup(values[field] ?? [], scaleOf[only.unit]) ? looksLike : isOneOfThem,
      },
    ]),
  );
}

const scaleOf = { V: 1, mV: 1000 } as const;
type GroupUnit = keyof typeof scaleOf;

function unitOfGroups(headers: readonly string[], values: readonly (readonly number[])[]): GroupUnit | null {
  const stated = unitAtEnd(headerWords(headers[0] ?? ""));
  for (const unit of ["V", "mV"] as const) {
    if (stated !== null && stated.dimension !== "count" && stated.symbol !== unit) continue;
    const scale = scaleOf[unit];
    const groups = values.filter((own) => isGroup(own, scale)).length;
    const noneElse = values.every((own) => own.every((value) => !(value < 0 || value > ODD_TO_V * scale)));
    // Volts without a decimal in any of them are the steps of a switch.
    const isFine = unit === "mV" || values.flat().some((value) => value % 1 > 0);
    if (groups >= MOST_GROUPS * values.length && noneElse && isFine) return unit;
  }
  return null;
}

/** Whether most values are those of a group. */
function isGroup(values: readonly number[], scale: number): boolean {
  const read = values.filter((value) => !Number.isNaN(value));
  const fitting = read.filter((value) => value >= GROUP_FROM_V * scale && value <= GROUP_TO_V * scale);
  return fitting.length > read.length / 2;
}
