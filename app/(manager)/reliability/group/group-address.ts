import { z } from "zod";
import { type CompareBy, comparisons, groupNameSchema } from "@/lib/reliability/compare-by";
import { type GroupTable, groupTables } from "@/lib/reliability/group-tables-csv";

/** What the address of a group's page holds; an address that names no such group is not found. */
export const groupAddressSchema = z.object({
  by: z.enum(comparisons),
  group: groupNameSchema,
});

/** The same for one of its tables as a file. */
export const groupTableAddressSchema = groupAddressSchema.extend({ table: z.enum(groupTables).default("shares") });

/** A revision has a page with its changes and known issues; every other group has one by its attribute and name. */
export function groupHref(by: CompareBy, group: string): string {
  return by === "revision"
    ? `/reliability/${encodeURIComponent(group)}`
    : `/reliability/group?${new URLSearchParams({ by, group })}`;
}

export function groupTableHref(by: CompareBy, group: string, table: GroupTable): string {
  return `/reliability/group/export?${new URLSearchParams({ by, group, table })}`;
}
