import { type ColumnUnit, unitAtEnd, unitOfWord } from "@/lib/readings/column-unit";
import { numberedQuantityOfName, quantityOfName } from "@/lib/readings/column-vocabulary";
import type { OpenDayOrder } from "@/lib/readings/date-time";
import { headerWords } from "@/lib/readings/header-words";
import { protectionFlagNames } from "@/lib/readings/protection-flags";
import { dimensionsOf, HIGHEST_GROUP, type Quantity } from "@/lib/readings/quantity";

export interface ColumnMeaning {
  readonly quantity: Quantity;
  /** Number in the header: the series group, the sensor, or the bit of a protection column; null where there is none. */
  readonly number: number | null;
  /** Unit the header states; null where it states none. */
  readonly unit: ColumnUnit | null;
  /** True where the header calls the values raw. */
  readonly raw: boolean;
  /** Sign convention stated in the header itself, as in "current_A_discharge_positive". */
  readonly statedSign: "charge-positive" | "discharge-positive" | null;
  /** Which comes first in dates that do not tell it, where somebody said so. */
  readonly dayOrder?: OpenDayOrder | undefined;
  /**
   * For which file a person said so; missing where nobody did. What they said of sign and unit is asked about no more, unless the
   * values deny what was said for an earlier file.
   */
  readonly confirmed?: "this-file" | "earlier-file";
  /** A person said to leave the column out: it is a temperature by its heading, and is searched for an emergency alone. */
  readonly isLeftOut?: true;
}

/**
 * What a column header means, or null where the vocabulary does not know it.
 *
 * The header is cut into words; a sign phrase and the word "raw" are taken off, then the last word if it is a unit that fits
 * the rest, then one number. Tried with the unit taken off first, because "Current(A)" is a current and not a column "A".
 */
export function columnMeaning(header: string): ColumnMeaning | null {
  const words = headerWords(header);
  const bits: readonly string[] = protectionFlagNames;
  const bit = bits.indexOf(words.join("_").toUpperCase());
  if (bit >= 0) return { quantity: "protection-bit", number: bit, unit: null, raw: false, statedSign: null };

  if (ownFlagsLabel.test(header.trim()))
    return { quantity: "protection-flags", number: null, unit: unitOfWord("1"), raw: false, statedSign: null };
  const statedSign = takeSignPhrase(words);
  const raw = words.length > 1 && words[words.length - 1] === "raw";
  if (raw) words.pop();
  if (words.length === 0 || words.length > 8) return null;

  const lastWord = words[words.length - 1] ?? "";
  const unit = unitAtEnd(words);
  const named = (unit === null ? null : nameAndNumber(words.slice(0, -1), unit)) ?? nameAndNumber(words, null);
  if (named === null) return null;
  // A lone "seconds" is both name and unit.
  const ownUnit = words.length === 1 && dimensionsOf[named.quantity].includes("time") ? unitOfWord(lastWord) : null;
  return { ...named, unit: named.unit ?? ownUnit, raw, statedSign };
}

/** Our own label, which means the open list of bits (protection-flags.ts). */
const ownFlagsLabel = /^protection flags \/ 1$/i;

interface Named {
  readonly quantity: Quantity;
  readonly number: number | null;
  readonly unit: ColumnUnit | null;
}

function nameAndNumber(words: readonly string[], unit: ColumnUnit | null): Named | null {
  const fits = (quantity: Quantity) => unit === null || dimensionsOf[quantity].includes(unit.dimension);
  const plain = quantityOfName(words.join(" "), unit?.dimension ?? null);
  if (plain !== null && fits(plain)) return { quantity: plain, number: null, unit };

  const numbers = words.filter((word) => /^\d{1,3}$/.test(word));
  const rest = words.filter((word) => !/^\d+$/.test(word));
  if (numbers.length !== 1 || rest.length !== words.length - 1) return null;
  const number = Number(numbers[0]);
  const name = rest.join(" ");
  const numbered = numberedQuantityOfName(name, unit?.dimension ?? null);
  if (numbered !== null && fits(numbered) && number <= HIGHEST_GROUP) return { quantity: numbered, number, unit };
  // SunSpec calls its first event word Evt1; the second word has other bits.
  return name === "evt" && number === 1 ? { quantity: "protection-flags", number: null, unit } : null;
}

function takeSignPhrase(words: string[]): ColumnMeaning["statedSign"] {
  const [direction, positive] = words.slice(-2);
  if (positive !== "positive" || words.length < 3) return null;
  const isCharge = direction === "charge" || direction === "charging";
  if (!isCharge && direction !== "discharge" && direction !== "discharging") return null;
  words.splice(-2);
  return isCharge ? "charge-positive" : "discharge-positive";
}
