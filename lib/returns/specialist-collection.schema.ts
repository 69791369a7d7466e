import { z } from "zod";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { storableText } from "./storable-text";

const DAY_MISSING = "Give the day on which it was collected, such as 2026-03-15.";

/** Who took a dangerous pack away, under which paper and when. */
export const specialistCollectionSchema = z.object({
  collectedBy: storableText({
    least: 3,
    most: 200,
    tooShort: "Write the firm, and the person who came.",
    tooLong: "This is longer than 200 characters.",
  }),
  paperNumber: storableText({
    least: 2,
    most: 80,
    tooShort: "Write the number of the transport or waste paper that went with it.",
    tooLong: "This is longer than 80 characters.",
  }),
  collectedOn: z.string(DAY_MISSING).refine(isCalendarDate, DAY_MISSING),
  keptAt: z.string().trim().max(200, "This is longer than 200 characters.").default(""),
  seenVersion: z.coerce.number("Reload the page: it does not know what it shows.").int().min(0),
});
