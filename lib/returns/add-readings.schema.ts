import { z } from "zod";
import { storableText } from "./storable-text";

/** What is said with readings that come after a return was lodged. */
export const addReadingsSchema = z.object({
  fileId: z.uuid("Choose a readings file first."),
  why: storableText({
    least: 3,
    most: 500,
    tooShort: "Say where these readings come from.",
    tooLong: "This is longer than 500 characters.",
  }),
  seenVersion: z.coerce.number("Reload the page: it does not know what it shows.").int().min(1),
});
