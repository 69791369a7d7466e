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
