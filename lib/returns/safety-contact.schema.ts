import { z } from "zod";
import { storableText } from "./storable-text";

/** How a customer can be reached for a safety notice; one object for the form and the server. */
export const safetyContactSchema = z.object({
  contact: storableText({
    least: 5,
    most: 300,
    tooShort: "Write how the customer can be reached: a telephone number or an address for mail.",
    tooLong: "This is longer than 300 characters. A number or an address is enough.",
  }),
  agreed: z.literal("yes", "Ask the customer first: it is kept for safety notices alone."),
});

export const revealSchema = z.object({
  why: storableText({
    least: 10,
    most: 500,
    tooShort: "Write which safety notice it is needed for: the dealer and the manager read this.",
    tooLong: "This is longer than 500 characters.",
  }),
});
