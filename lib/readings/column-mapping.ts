import { z } from "zod";
import { type ColumnChoice, columnChoiceSchema } from "@/lib/readings/column-choice.schema";
import { type ColumnMeaning, columnMeaning } from "@/lib/readings/column-meaning";
import { unitOfSymbol } from "@/lib/readings/column-unit";
import { dimensionsOf } from "@/lib/readings/quantity";

/**
 * What a person says about columns: `{ "header in the file": "label" }` or a choice instead of the label. A label is any header the
 * vocabulary knows, e.g. "Cell 01 Voltage / V", or "ignore"; a unit in the file's own header goes before the label's, but not before
 * one that was chosen. A header that stands in the file again is named with its place among its likes, "Temp (2)".
 */
export const columnMappingSchema = z.record(z.string(), z.union([z.string().min(1), columnChoiceSchema]));

export type ColumnMapping = z.infer<typeof columnMappingSchema>;

/** Labels of a mapping that the vocabulary does not know; a mapping with such a label is refused as a whole. */
export function unknownLabels(mapping: ColumnMapping): string[] {
  const labels = Object.values(mapping).filter((entry) => typeof entry === "string");
  return [...new Set(labels)].filter((label) => label !== "ignore" && columnMeaning(label) === null);
}

/** Meaning of a header, through the mapping where it names the header, else by the vocabulary. */
export function mappedMeaning(header: string, mapping: ColumnMapping | undefined, key = header): ColumnMeaning | null {
  const entry = mapping !== undefined && Object.hasOwn(mapping, key) ? mapping[key] : undefined;
  if (entry === undefined) return columnMeaning(header);
  if (entry === "ignore" || (typeof entry !== "string" && entry.quantity === "ignore")) return leftOut(header);
  if (typeof entry !== "string") return chosenMeaning(entry);
  const byLabel = columnMeaning(entry);
  const own = columnMeaning(header);
  const ownUnit = own !== null && own.unit?.dimension === byLabel?.unit?.dimension ? own.unit : null;
  return byLabel === null ? null : { ...byLabel, unit: ownUnit ?? byLabel.unit };
}

/** Nothing is judged by a column that is left out, yet no heat may be lost with it: what calls itself a temperature is still read. */
function leftOut(header: string): ColumnMeaning | null {
  const own = columnMeaning(header);
  return own?.quantity === "temperature" ? { ...own, confirmed: "this-file", isLeftOut: true } : null;
}

function chosenMeaning({ quantity, number, unit, sign, dayOrder, remembered }: ColumnChoice): ColumnMeaning | null {
  if (quantity === "ignore") return null;
  const chosen = unit === null ? null : unitOfSymbol(unit);
  const fits = chosen !== null && dimensionsOf[quantity].includes(chosen.dimension);
  const confirmed = remembered === true ? "earlier-file" : "this-file";
  return {
    // Of a flag without its bit it is known that it is raised, not which it is.
    quantity: quantity === "protection-bit" && number === null ? "other-flags" : quantity,
    number,
    unit: fits ? chosen : null,
    raw: false,
    statedSign: sign,
    dayOrder: dayOrder ?? undefined,
    confirmed,
  };
}

/** A mapping that was confirmed for an earlier file of the same header, for a file that nobody has looked at. */
export function asRemembered(mapping: ColumnMapping): ColumnMapping {
  const marked = Object.entries(mapping).map(([key, entry]) => [
    key,
    typeof entry === "string" ? entry : { ...entry, remembered: true as const },
  ]);
  return Object.fromEntries(marked);
}

/** The headers of a file as a mapping names them: each once, the second of the same name as "name (2)". */
export function mappingKeys(headers: readonly string[]): string[] {
  const seen = new Map<string, number>();
  return headers.map((header) => {
    const times = (seen.get(header) ?? 0) + 1;
    seen.set(header, times);
    return times === 1 ? header : `${header} (${times})`;
  });
}
