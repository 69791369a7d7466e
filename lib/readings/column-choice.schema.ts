import { z } from "zod";
import { HIGHEST_GROUP, quantityNames } from "@/lib/readings/quantity";

/** What a person chose for one column. */
export const columnChoiceSchema = z.object({
  quantity: z.enum([...quantityNames, "ignore"]),
  /** The series group or the bit; null where the column has none. */
  number: z.number().int().min(0).max(HIGHEST_GROUP).nullable(),
  /** Symbol of the unit; null leaves it to the size of the values. */
  unit: z.string().nullable(),
  /** Which way a current counts; null leaves it to the data. */
  sign: z.enum(["charge-positive", "discharge-positive"]).nullable(),
  /** Which comes first in dates that do not tell it: null where that is still to be said, missing where they tell it. */
  dayOrder: z.enum(["day-first", "month-first"]).nullable().optional(),
  /** True where it was chosen for an earlier file of this header: then the values of this one may deny it. */
  remembered: z.literal(true).optional(),
});

export type ColumnChoice = z.infer<typeof columnChoiceSchema>;

const columnQuestionSchema = z.object({
  key: z.string(),
  samples: z.array(z.string()).readonly(),
  proposal: columnChoiceSchema,
  why: z.string().nullable(),
});

/** The questions about a held file as they come over the wire. */
export const heldQuestionsSchema = z.object({
  columns: z.array(columnQuestionSchema).readonly(),
  asksZone: z.boolean(),
  heldId: z.string(),
  /** IANA zone of the dealer. */
  timeZone: z.string(),
  /** What must be known before anything is answered: the file shows a danger as it stands. Null where it shows none. */
  danger: z.string().nullable(),
});

export type HeldQuestions = z.infer<typeof heldQuestionsSchema>;
