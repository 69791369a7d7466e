import { z } from "zod";
import { storableText } from "@/lib/returns/storable-text";

/** What a mismatch at goods-in turned out to be. */
export const settledOutcomes = ["same-pack", "other-pack"] as const;

export const settledOutcomeLabels: Readonly<Record<(typeof settledOutcomes)[number], string>> = {
  "same-pack": "It is the pack of this return after all",
  "other-pack": "It is another pack: the one of this return has not come",
};

/** Which pack it is, and how that was settled; one object for the form and the server. */
export const settlementSchema = z.object({
  outcome: z.enum(settledOutcomes, "Choose which pack it is."),
  how: storableText({
    least: 10,
    most: 2000,
    tooShort: "Write who settled it and how.",
    tooLong: "At most 2000 characters.",
  }),
});
export type IdentityToSettle = z.output<typeof settlementSchema>;
