import { z } from "zod";
import { type ColumnMeaning, columnMeaning } from "@/lib/readings/column-meaning";

/**
 * What a person says about columns the vocabulary does not know: `{ "header in the file": "label" }`. A label is any header the
 * vocabulary knows, e.g. "Cell 01 Voltage / V", or "ignore". A unit in the file's own header goes before the label's.
 */
export const columnMappingSchema = z.record(z.string(), z.string().min(1));

export type ColumnMapping = z.infer<typeof columnMappingSchema>;

/** Labels of a mapping that the vocabulary does not know; a mapping with such a label is refused as a whole. */
export function unknownLabels(mapping: ColumnMapping): string[] {
  return [...new Set(Object.values(mapping))].filter((label) => label !== "ignore" && columnMeaning(label) === null);
}

/** Meaning of a header, through the mapping where it names the header, else by the vocabulary. */
export function mappedMeaning(header: string, mapping: ColumnMapping | undefined): ColumnMeaning | null {
  const label = mapping !== undefined && Object.hasOwn(mapping, header) ? mapping[header] : undefined;
  if (label === undefined) return columnMeaning(header);
  if (label === "ignore") return null;
  const byLabel = columnMeaning(label);
  const own = columnMeaning(header);
  const ownUnit = own !== null && own.unit?.dimension === byLabel?.unit?.dimension ? own.unit : null;
  return byLabel === null ? null : { ...byLabel, unit: ownUnit ?? byLabel.unit };
}
