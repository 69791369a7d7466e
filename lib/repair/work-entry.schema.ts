import { z } from "zod";
import { operationNames } from "./operations";

const optionalText = (most: number) =>
  z
    .string()
    .trim()
    .max(most, `This is longer than ${most} characters.`)
    .transform((text) => (text === "" ? undefined : text))
    .optional();

/** "7" or "7, 8": series groups, counted from 1 at the negative end. */
const groupList = z
  .string()
  .trim()
  .transform((typed, context) => {
    if (typed === "") return [];
    const groups = typed.split(/[\s,;]+/).map(Number);
    if (groups.every((group) => Number.isInteger(group) && group >= 1 && group <= 400)) return [...new Set(groups)];
    context.addIssue({ code: "custom", message: "Name the groups by their numbers, such as 7 or 7, 8." });
    return z.NEVER;
  })
  .default([]);

/** Milliohm of each group named, in the same order; a comma may stand for the decimal point where a semicolon parts. */
const resistanceList = z
  .string()
  .trim()
  .transform((typed, context) => {
    if (typed === "") return [];
    const values = typed.split(/[;\s]+/).map((text) => Number(text.replace(",", ".")));
    if (values.every((value) => Number.isFinite(value) && value > 0 && value < 1000)) return values;
    context.addIssue({ code: "custom", message: "Give the resistance in mΩ, one for each group: 0.91 or 0.91; 0.93." });
    return z.NEVER;
  })
  .default([]);

/** One piece of work on a pack as the form sends it. */
export const workEntrySchema = z.object({
  reference: z.string().max(40),
  operation: z.enum(operationNames, "Choose what was done."),
  lotCode: optionalText(60),
  identity: optionalText(80),
  firmware: optionalText(40),
  groups: groupList,
  resistanceMilliohm: resistanceList,
  minutes: z.coerce
    .number("Give whole minutes.")
    .int("Give whole minutes.")
    .min(1, "Give the minutes it took.")
    .max(6000, "Give the minutes it took."),
  note: z
    .string()
    .trim()
    .min(3, "Write what was done and what was taken out, in a few words.")
    .max(1000, "Keep to what was done."),
});
export type WorkEntryInput = z.input<typeof workEntrySchema>;
export type WorkEntry = z.output<typeof workEntrySchema>;

export const partReceiptSchema = z.object({
  kind: z.string().max(20),
  lotCode: z.string().trim().min(2, "Give the lot as it is printed on the bag.").max(60),
  supplier: z.string().trim().min(2, "Name the supplier.").max(80),
  quantity: z.coerce.number("Give how many.").int("Give a whole number.").min(1, "Give how many.").max(100_000),
});
