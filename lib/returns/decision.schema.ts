import { z } from "zod";
import { faults } from "@/lib/diagnosis/finding";
import { storableText } from "./storable-text";
import { whereSound } from "./where-sound";

/** What service may decide in this slice. Refusing a return needs a second person and its own notices: not here. */
export const decidableRemedies = ["repair", "replace", "remote-fix", "return-as-is", "isolate"] as const;
export type DecidableRemedy = (typeof decidableRemedies)[number];

export const remedyLabels: Readonly<Record<DecidableRemedy, string>> = {
  repair: "Repair this pack",
  replace: "Replace it with another pack",
  "remote-fix": "Put right at the dealer's, nothing is sent",
  "return-as-is": "Hand it back unchanged",
  isolate: "Isolate it and decide later",
};

/** "unknown" is an honest entry: forcing a choice of fault would poison every later count. */
export const confirmedFaults = [...faults, "unknown"] as const;
export type ConfirmedFault = (typeof confirmedFaults)[number];

/** The decision on a return, one object for the bench form and the server. */
export const decisionSchema = z
  .object({
    remedy: z.enum(decidableRemedies, "Choose what is to be done."),
    confirmedFault: z.enum(confirmedFaults, "Choose the fault that was found; “unknown” is a fair answer."),
    reason: storableText({
      least: 10,
      most: 2000,
      tooShort: "Write why, in a sentence the dealer and a later reader will understand.",
      tooLong: "This is longer than 2000 characters. Keep to the reason.",
    }),
    /** Version of the return the decider had on screen; a decision on an older one is refused. */
    seenVersion: z.int("Reload the page: it does not know what it shows.").min(0),
    replacementRevisionCode: z
      .string()
      .max(40, "No revision has so long a code.")
      .transform((code) => (code === "" ? undefined : code))
      .optional(),
  })
  .refine((form) => (form.remedy === "replace") === (form.replacementRevisionCode !== undefined), {
    path: ["replacementRevisionCode"],
    when: whereSound("remedy", "replacementRevisionCode"),
    message: "A replacement needs the revision it is made with; any other remedy has none.",
  });

export type DecisionInput = z.input<typeof decisionSchema>;
export type Decision = z.output<typeof decisionSchema>;
