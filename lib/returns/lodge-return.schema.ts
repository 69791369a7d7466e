import { z } from "zod";
import { conditions } from "./conditions";
import { dangerAnswers } from "./danger-signs";
import { dateField, optionalChoice, optionalDateField, serialField } from "./form-fields";
import { noFileReasons } from "./no-file-reasons";
import { replacedReasons } from "./replaced-pack";
import { saleEvidences } from "./sale-evidence";
import { storableText } from "./storable-text";
import { symptoms } from "./symptoms";
import { whereSound } from "./where-sound";

const lookFirst = "Look at the pack first: choose what you see, or “None of these”.";

/**
 * What a dealer sends in, one object for the form and the server. The order of the dates needs facts the form lacks
 * (today in the place of sale, the day of build): see check-return-dates.ts.
 */
export const lodgeReturnSchema = z
  .object({
    /** Made once in the browser, so that a second tap or a retry on a poor line lodges nothing twice. */
    clientKey: z.uuid("The form lost its key. Reload the page; your answers are kept."),
    dangerSigns: z
      .array(z.enum(dangerAnswers), lookFirst)
      .min(1, lookFirst)
      .refine((answers) => !answers.includes("none-of-these") || answers.length === 1, {
        message: "“None of these” cannot stand beside a danger sign. Choose one or the other.",
      }),
    serial: serialField,
    /** Asked only where the pack was replaced before. */
    replacedBecause: optionalChoice(replacedReasons),
    soldOnStated: optionalDateField,
    soldOnEvidence: optionalChoice(saleEvidences),
    noticedOn: dateField("Give the day the customer first noticed it, as near as they can say."),
    toldOn: dateField("Give the day the customer told you. That day counts for the cover, not today."),
    concern: storableText({
      least: 3,
      most: 2000,
      tooShort: "Write what the customer says, in their own words and language.",
      tooLong: "This is longer than 2000 characters. Keep the customer's words about the pack.",
    }),
    symptom: z.enum(symptoms, "Choose what the pack does; “Something else” is a fair answer."),
    /** May be empty: nobody knows when it happens. */
    conditions: z.array(z.enum(conditions), "Choose when it happens, or leave all of them open."),
    readingFileId: z
      .string()
      .regex(/^([0-9A-Za-z_-]{8,64})?$/, "This file is not known here. Choose it again.")
      .transform((id) => (id === "" ? undefined : id))
      .optional(),
    noFileReason: optionalChoice(noFileReasons),
  })
  .refine((form) => form.soldOnStated === undefined || form.soldOnEvidence !== undefined, {
    path: ["soldOnEvidence"],
    when: whereSound("soldOnStated", "soldOnEvidence"),
    message: "Say how the day of the sale is known.",
  })
  .refine((form) => form.readingFileId !== undefined || form.noFileReason !== undefined, {
    path: ["readingFileId"],
    when: whereSound("readingFileId", "noFileReason"),
    message: "Add the readings file, or say why there is none.",
  });

/** What the form holds while it is filled in. */
export type LodgeReturnInput = z.input<typeof lodgeReturnSchema>;
/** What the server works with once everything was read. */
export type LodgeReturn = z.output<typeof lodgeReturnSchema>;
