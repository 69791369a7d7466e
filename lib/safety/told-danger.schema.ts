import { TZDate } from "@date-fns/tz";
import { z } from "zod";
import { storableText } from "@/lib/returns/storable-text";
import { incidentFlags } from "./incident-flags";

/** How somebody of the house learned of it; what a dealer tells is the dealer's own entry. */
export const learnedHow = ["bench-note", "telephone", "e-mail"] as const;

export const learnedHowLabels: Readonly<Record<(typeof learnedHow)[number], string>> = {
  "bench-note": "I saw it myself, or somebody in this house did",
  telephone: "By telephone",
  "e-mail": "By e-mail or letter",
};

const MOMENT = "Give day and time, or leave it empty if it is now.";

/** A danger that anybody signed in tells, about a pack they can name. */
export const toldDangerSchema = z.object({
  /** Serial of the pack, or reference of a return. */
  about: z.string().trim().max(60).default(""),
  /** Nobody can name the pack: it burnt, or nobody may go near it. */
  isUnnamed: z
    .literal("yes")
    .optional()
    .transform((ticked) => ticked === "yes"),
  /** Code of the dealer at whose place it is, where the house tells it of a pack that nobody can name; empty for none. */
  dealer: z.string().trim().max(40).default(""),
  flags: z.array(z.enum(incidentFlags)).max(incidentFlags.length).default([]),
  note: storableText({
    least: 5,
    most: 2000,
    tooShort: "Write what happened, in a sentence.",
    tooLong: "This is longer than 2000 characters.",
  }),
  how: z.enum(learnedHow).default("bench-note"),
  /** On the clock at the teller's place; empty means now. */
  knownAt: z
    .string()
    .regex(/^([0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}(:[0-9]{2})?)?$/, MOMENT)
    .default(""),
  country: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^([A-Z]{2})?$/, "Two letters, for example DE.")
    .default(""),
});
export type ToldDanger = z.output<typeof toldDangerSchema>;

/** Why neither a pack is named nor said that nobody can; null where it is clear which is meant. */
export function whyNoPackIsMeant({ about, isUnnamed }: Pick<ToldDanger, "about" | "isUnnamed">): string | null {
  if (about === "" && !isUnnamed)
    return "Give the serial of the pack or the reference of the return, or say that nobody can name it.";
  if (about !== "" && isUnnamed)
    return "A pack is named here, and it is said that nobody can: clear the one or the other.";
  return null;
}

/** The instant somebody first had it, on the clock of their place; null for a moment that is none or still to come. */
export function firstHadAt(typed: string, zone: string, now: Date): Date | null {
  if (typed === "") return now;
  const [year = 0, month = 0, day = 0, hour = 0, minute = 0] = typed.split(/[-T:]/).map(Number);
  const at = new Date(new TZDate(year, month - 1, day, hour, minute, zone).getTime());
  return Number.isNaN(at.getTime()) || at > now ? null : at;
}
