import { z } from "zod";
import { storableText } from "@/lib/returns/storable-text";

export const boxConditions = ["sound", "damaged", "opened", "wet", "wrong-packing"] as const;
export type BoxCondition = (typeof boxConditions)[number];

export const boxConditionLabels: Readonly<Record<BoxCondition, string>> = {
  sound: "Sound and closed",
  damaged: "Damaged on the way",
  opened: "Opened before it came here",
  wet: "Wet",
  "wrong-packing": "Not the packing that was named",
};

/** Signs somebody with the pack in hand can see, smell or hear. */
export const handSigns = ["warm", "swollen", "leaking", "smell", "noise", "case-broken", "wet-inside"] as const;
export type HandSign = (typeof handSigns)[number];

export const handSignLabels: Readonly<Record<HandSign, string>> = {
  warm: "Warmer than the room",
  swollen: "Swollen or bulging",
  leaking: "Leaking, or dried traces of it",
  smell: "A sharp or sweetish smell",
  noise: "Hissing or crackling",
  "case-broken": "Case dented, cracked or burned",
  "wet-inside": "Water inside",
};

/** What goods-in records when a pack comes in; one object for the form and the server. */
export const arrivalSchema = z
  .object({
    scanned: z.string("Scan the label on the pack itself, not the one on the box.").max(200),
    boxCondition: z.enum(boxConditions, "Choose how the box looks."),
    signs: z.array(z.enum(handSigns)).max(handSigns.length).default([]),
    /** "None of these" is an answer, never the absence of one. */
    noSigns: z.boolean().default(false),
    insulationMegaohm: z
      .union([
        z.literal("").transform(() => undefined),
        // A decimal comma is read as the point: most keyboards of the bench have one.
        z
          .string("A number in megaohm.")
          .or(z.number("A number in megaohm."))
          .transform((typed) => Number(String(typed).trim().replace(",", ".")))
          .pipe(z.number("A number in megaohm.").min(0, "Nothing below 0.").max(100_000, "At most 100,000 megaohm.")),
      ])
      .optional(),
    note: storableText({ least: 0, most: 2000, tooShort: "", tooLong: "This is longer than 2000 characters." }).default(
      "",
    ),
  })
  .refine((form) => form.noSigns === (form.signs.length === 0), {
    path: ["signs"],
    message: "Choose every sign you see, or say that there is none.",
  });
export type Arrival = z.output<typeof arrivalSchema>;
