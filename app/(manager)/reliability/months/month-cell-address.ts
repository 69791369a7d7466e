import { z } from "zod";
import type { MonthCellAsked } from "@/lib/data/month-triangle";
import { comparisons } from "@/lib/reliability/compare-by";
import { groupAddressSchema } from "../group/group-address";

/** What the address of the months of sale holds; without an attribute it asks for a revision. */
export const monthsAddressSchema = groupAddressSchema.extend({ by: z.enum(comparisons).default("revision") });

/** What the address of one cell's packs holds; an address that names no cell is not found. */
export const monthCellAddressSchema = groupAddressSchema.extend({
  soldIn: z.string().regex(/^(19|20|21)[0-9]{2}-(0[1-9]|1[0-2])$/),
  month: z.coerce.number().int().min(1).max(600),
});

export function monthCellHref({ month, ...asked }: MonthCellAsked): string {
  return `/reliability/months/packs?${new URLSearchParams({ ...asked, month: String(month) })}`;
}

/** The same packs as a file. */
export function monthCellFileHref(asked: MonthCellAsked): string {
  return monthCellHref(asked).replace("/packs?", "/packs/export?");
}

export function monthCellTitle({ soldIn, month }: Pick<MonthCellAsked, "soldIn" | "month">): string {
  return `sold in ${soldIn}, month ${month} in service`;
}
