import { z } from "zod";
import { testPurposes } from "./test-definition.schema";
import { seenChoices } from "./verdict";

const optionalText = (most: number) =>
  z
    .string()
    .trim()
    .max(most, `At most ${most} characters.`)
    .default("")
    .transform((text) => (text === "" ? null : text));

/** A number as people write it, with a point or a comma; null where nothing was written. */
const optionalNumber = (sentence: string) =>
  z
    .string()
    .trim()
    .default("")
    .transform((text) => text.replace(",", "."))
    .refine((text) => text === "" || /^-?[0-9]{1,7}([.][0-9]{1,6})?$/.test(text), sentence)
    .transform((text) => (text === "" ? null : Number(text)));

/** What the form of one test sends. Which fields a test needs is judged against its definition (`judge-entry.ts`). */
export const resultEntrySchema = z.object({
  reference: z.string().max(40),
  /** The plan on the screen of whoever measured. */
  planId: z.uuid("Reload the page: it does not know what it shows."),
  testKey: z.string().max(40),
  purpose: z.enum(testPurposes).default("finding"),
  value: optionalNumber("Write the number alone, for example 51.8"),
  seen: z.enum(seenChoices, "Choose what you saw.").nullish().default(null),
  instrument: optionalText(40),
  expandedUncertainty: optionalNumber("Write the uncertainty as a number, or leave it empty."),
  ambientC: optionalNumber("Write the temperature as a number, or leave it empty."),
  note: optionalText(1000),
  leaveToDestroy: optionalText(300),
  /** The result that was written down wrongly. */
  correctsId: z
    .uuid()
    .or(z.literal(""))
    .default("")
    .transform((id) => (id === "" ? null : id)),
});
export type ResultEntry = z.output<typeof resultEntrySchema>;

export const waiverSchema = z.object({
  reference: z.string().max(40),
  planId: z.uuid("Reload the page: it does not know what it shows."),
  testKey: z.string().max(40),
  why: z.string().trim().min(10, "Write why this test is left out, in a sentence.").max(500, "At most 500 characters."),
});
export type WaiverEntry = z.output<typeof waiverSchema>;
