import { z } from "zod";
import { type CompareBy, comparisons } from "@/lib/reliability/compare-by";

/** What the address of a group's page holds; an address that names no such group is not found. */
export const groupAddressSchema = z.object({
  by: z.enum(comparisons),
  group: z.string().min(1).max(200),
});

/** A revision has a page with its changes and known issues; every other group has one by its attribute and name. */
export function groupHref(by: CompareBy, group: string): string {
  return by === "revision"
    ? `/reliability/${encodeURIComponent(group)}`
    : `/reliability/group?${new URLSearchParams({ by, group })}`;
}
