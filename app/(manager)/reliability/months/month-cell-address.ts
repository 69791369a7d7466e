import { z } from "zod";
import type { MonthCellAsked } from "@/lib/data/month-triangle";
import { comparisons } from "@/lib/reliability/compare-by";
import { groupAddressSchema } from "../group/group-address";

/** What the address of the months of sale holds; without an attribute it asks for a revision. */
export const monthsAddressSchema = groupAddressSchema.extend({ by: z.enum(comparisons).default("revision") });

/** What the address of a file of the months of sale holds: their cells, or each month against the others. */
export const monthFileAddressSchema = groupAddressSchema.extend({
  table: z.enum(["cells", "comparison"]).default("cells"),
});

/** What the address of one cell's packs holds, or of a whole month of sale; an address that names neither is not found. */
export const monthCellAddressSchema = groupAddressSchema.extend({
  soldIn: z.string().regex(/^(19|20|21)[0-9]{2}-(0[1-9]|1[0-2])$/),
  month: z.coerce.number().int().min(1).max(600).optional(),
  only: z.literal("failures").optional(),
});

export function monthCellHref({ by, group, soldIn, month, only }: MonthCellAsked): string {
  const narrowed = { ...(month !== undefined && { month: String(month) }), ...(only !== undefined && { only }) };
  return `/reliability/months/packs?${new URLSearchParams({ by, group, soldIn, ...narrowed })}`;
}

/** The same packs as a file. */
export function monthCellFileHref(asked: MonthCellAsked): string {
  return monthCellHref(asked).replace("/packs?", "/packs/export?");
}

export function monthCellTitle({ soldIn, month, only }: Pick<MonthCellAsked, "soldIn" | "month" | "only">): string {
  const of = month === undefined ? "" : `, month ${month} in service`;
  return `sold in ${soldIn}${of}${only === undefined ? "" : ", confirmed failures within cover"}`;
}
