import { z } from "zod";
import { storableText } from "@/lib/returns/storable-text";
import { isCalendarDate } from "./calendar";

const DAY_MISSING = "Give the day of delivery that the proof shows, such as 2026-03-15.";

/** What whoever read the photograph of a proof of sale says that it shows. */
export const proofOfSaleSchema = z.object({
  /** The photograph that was read: another one may have come meanwhile. */
  proofId: z.uuid("Reload the page: it does not know which photograph it shows."),
  provenSoldOn: z.string(DAY_MISSING).refine(isCalendarDate, DAY_MISSING),
  why: storableText({
    least: 3,
    most: 500,
    tooShort: "Say what kind of proof it is and where it came from.",
    tooLong: "This is longer than 500 characters.",
  }),
  seenVersion: z.coerce.number("Reload the page: it does not know what it shows.").int().min(1),
});

const CHOICE_MISSING = "Choose the proof that counts.";
const RELOAD = "Reload the page: it does not know which proofs it shows.";

/** Which of the proofs that were read counts, by whoever looked at all of them. */
export const proofChoiceSchema = z.object({
  chosenOn: z.string(CHOICE_MISSING).refine(isCalendarDate, CHOICE_MISSING),
  /** All days that were shown to choose from: another proof may have been read meanwhile. */
  shownDays: z
    .string(RELOAD)
    .transform((days) => days.split(" "))
    .pipe(z.array(z.string().refine(isCalendarDate, RELOAD)).min(2, RELOAD).max(20, RELOAD)),
  why: storableText({
    least: 3,
    most: 500,
    tooShort: "Say why this proof counts and the others do not.",
    tooLong: "This is longer than 500 characters.",
  }),
  seenVersion: z.coerce.number("Reload the page: it does not know what it shows.").int().min(1),
});
