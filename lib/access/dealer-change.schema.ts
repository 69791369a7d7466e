import { z } from "zod";
import { dealerWords } from "./new-dealer.schema";

/** Another name or town of a dealer, with what stood there when the form was opened. */
export const dealerChangeSchema = z.object({
  code: z.string().max(20),
  nameSeen: z.string().max(200),
  townSeen: z.string().max(200),
  name: dealerWords("Name"),
  town: dealerWords("Town"),
  why: z
    .string()
    .trim()
    .min(3, "Write why: the next reader has only this.")
    .max(500, "Keep to the reason: at most 500 characters."),
});
export type DealerChange = z.output<typeof dealerChangeSchema>;
