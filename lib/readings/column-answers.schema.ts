import { z } from "zod";
import { columnMappingSchema } from "@/lib/readings/column-mapping";
import { isTimeZone } from "@/lib/warranty/place-of-sale";

/** More columns than any file of a pack has: 400 groups and all else (engineering default, no authority). */
const mostColumns = 1000;

/** What a person answers about the columns of a held file.  */
export const columnAnswersSchema = z.object({
  mapping: columnMappingSchema.refine((mapping) => Object.keys(mapping).length <= mostColumns, "Too many columns."),
  timeZone: z.string().refine(isTimeZone, "Choose a time zone from the list.").nullable(),
});
