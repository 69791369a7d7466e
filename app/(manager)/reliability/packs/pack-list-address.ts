import { z } from "zod";
import { type CompareBy, comparisons, groupNameSchema } from "@/lib/reliability/compare-by";
import { type PackList, type PackListFilter, packListFilterSchema, packLists } from "@/lib/reliability/pack-lists";

/** What the address of a list of packs holds; an address that names no such list is not found. */
export const packListAddressSchema = packListFilterSchema.extend({
  by: z.enum(comparisons),
  group: groupNameSchema,
  list: z.enum(packLists),
});

/** The way to the packs behind a number. */
export function packListHref(by: CompareBy, group: string, list: PackList, filter: PackListFilter = {}): string {
  const narrowed = Object.entries(filter).filter(([, value]) => value !== undefined);
  const asked = { by, group, list, ...Object.fromEntries(narrowed.map(([name, value]) => [name, String(value)])) };
  return `/reliability/packs?${new URLSearchParams(asked)}`;
}

/** The same packs as a file. */
export function packListFileHref(...asked: Parameters<typeof packListHref>): string {
  return packListHref(...asked).replace("/packs?", "/packs/export?");
}
