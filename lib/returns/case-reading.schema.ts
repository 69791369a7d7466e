import { z } from "zod";

/** mm. More than a hand's breadth is a typing error, and the database refuses it as well. */
const MOST_GAP_MM = 100;

/** A straight-edge reading as it is typed at the bench; a decimal comma counts as a point. */
export const caseReadingSchema = z.object({
  reference: z.string().max(40),
  gapMillimetre: z
    .string()
    .trim()
    .transform((text) => text.replace(",", "."))
    .pipe(
      z
        .string()
        .regex(/^\d{1,3}(\.\d+)?$/, "Write the gap in millimetres, for example 1.5")
        .transform(Number)
        .pipe(z.number().max(MOST_GAP_MM, `A gap of more than ${MOST_GAP_MM} mm is not a reading of this kind`)),
    ),
});
