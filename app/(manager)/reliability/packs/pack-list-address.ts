import { z } from "zod";
import { type CompareBy, comparisons } from "@/lib/reliability/compare-by";
import { type PackList, packLists } from "@/lib/reliability/pack-lists";

/** What the address of a list of packs holds; an address that names no such list is not found. */
export const packListAddressSchema = z.object({
  by: z.enum(comparisons),
  group: z.string().min(1).max(200),
  list: z.enum(packLists),
});

export function packListHref(by: CompareBy, group: string, list: PackList): string {
  return `/reliability/packs?${new URLSearchParams({ by, group, list })}`;
}
