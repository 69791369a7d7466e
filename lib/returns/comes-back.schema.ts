import { z } from "zod";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { comesBackOrders } from "./comes-back";
import { storableText } from "./storable-text";
import { whereSound } from "./where-sound";

/** What is recorded later of what the customer gives back. */
export const comesBackOrderSchema = z
  .object({
    order: z.enum(comesBackOrders, "Choose what is to be recorded."),
    dueOn: z
      .string()
      .transform((typed) => (typed.trim() === "" ? undefined : typed))
      .optional(),
    why: storableText({
      least: 3,
      most: 1000,
      tooShort: "Write what came back and to whom, or why nothing does: the dealer reads it.",
      tooLong: "This is longer than 1000 characters.",
    }),
  })
  .refine(({ order, dueOn }) => order !== "comes-back" || (dueOn !== undefined && isCalendarDate(dueOn)), {
    path: ["dueOn"],
    when: whereSound("order"),
    message: "Give the last day by which it has to be back.",
  })
  .transform(({ order, dueOn, why }) => ({ order, why, dueOn: order === "comes-back" ? (dueOn ?? null) : null }));
export type ComesBackOrderForm = z.output<typeof comesBackOrderSchema>;
