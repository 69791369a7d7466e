import { z } from "zod";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { oldPackOrders } from "./old-pack";
import { storableText } from "./storable-text";

/** How many orders the page showed: what is ordered meanwhile is looked at before anybody orders or hands on again. */
export const seenOrdersSchema = z.coerce.number().int().min(0);

const DAY_MISSING = "Give the last day by which it has to be gone.";

export const orderForOldPackSchema = z.object({
  order: z.enum(oldPackOrders, "Choose what becomes of it."),
  dueOn: z.string(DAY_MISSING).refine(isCalendarDate, DAY_MISSING),
  why: storableText({
    least: 3,
    most: 1000,
    tooShort: "Write why, and for a recycler whom the dealer may ask: the dealer reads it.",
    tooLong: "This is longer than 1000 characters.",
  }),
});
export type OrderForOldPack = z.output<typeof orderForOldPackSchema>;

/** Who took an old pack away at the dealer's, and the paper that says so. */
export const certificateSchema = z.object({
  certificate: storableText({
    least: 5,
    most: 500,
    tooShort: "Write who took it away, when, and the number of the disposal certificate.",
    tooLong: "This is longer than 500 characters.",
  }),
});
