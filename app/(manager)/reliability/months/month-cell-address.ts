import { z } from "zod";
import type { GroupAsked, MonthCellAsked } from "@/lib/data/reliability/month-triangle";
import { comparisons, groupNameSchema } from "@/lib/reliability/compare-by";
import { groupAddressSchema } from "../group/group-address";

/** What the address of the months of sale holds; without an attribute it asks for a revision. */
export const monthsAddressSchema = groupAddressSchema.extend({
  by: z.enum(comparisons).default("revision"),
  model: groupNameSchema.optional(),
});

/** What the address of a file of the months of sale holds: their cells, or each month against the others. */
export const monthFileAddressSchema = groupAddressSchema.extend({
  table: z.enum(["cells", "comparison"]).default("cells"),
  model: groupNameSchema.optional(),
});

/** What the address of one cell's packs holds, or of a whole month of sale; an address that names neither is not found. */
export const monthCellAddressSchema = groupAddressSchema.extend({
  model: groupNameSchema.optional(),
  soldIn: z.string().regex(/^(19|20|21)[0-9]{2}-(0[1-9]|1[0-2])$/),
  month: z.coerce.number().int().min(1).max(600).optional(),
  upToMonth: z.coerce.number().int().min(1).max(600).optional(),
  only: z.literal("failures").optional(),
  settledDays: z.coerce.number().int().min(1).max(36_525).optional(),
});

/** The page of the months of sale, or with `file` one of its tables. */
export function monthsHref({ by, group, model }: GroupAsked, file?: "cells" | "comparison"): string {
  const asked = { by, group, ...(model !== undefined && { model }), ...(file !== undefined && { table: file }) };
  return `/reliability/months${file === undefined ? "" : "/export"}?${new URLSearchParams(asked)}`;
}

export function monthCellHref({ by, group, soldIn, ...narrowed }: MonthCellAsked): string {
  const given = Object.entries(narrowed).flatMap(([name, value]) =>
    value === undefined ? [] : [[name, String(value)]],
  );
  return `/reliability/months/packs?${new URLSearchParams({ by, group, soldIn, ...Object.fromEntries(given) })}`;
}

/** The same packs as a file. */
export function monthCellFileHref(asked: MonthCellAsked): string {
  return monthCellHref(asked).replace("/packs?", "/packs/export?");
}

export function monthCellTitle({
  soldIn,
  month,
  upToMonth = month,
  only,
  settledDays,
  model,
}: Omit<MonthCellAsked, "by" | "group">): string {
  const of = month === undefined ? "" : `, month ${month}${upToMonth === month ? "" : ` to ${upToMonth}`} in service`;
  const settled = settledDays === undefined ? "" : `, told ${settledDays} days ago or earlier`;
  return `sold in ${soldIn}${of}${only === undefined ? "" : ", confirmed failures within cover"}${settled}${model === undefined ? "" : `, model ${model}`}`;
}
