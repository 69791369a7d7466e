import { z } from "zod";
import { storableText } from "@/lib/returns/storable-text";

/** A decimal comma is read as the point: most keyboards of the bench have one. */
function decimal(question: string) {
  return z
    .string(question)
    .trim()
    .min(1, question)
    .transform((typed) => typed.replace(",", "."))
    .pipe(z.coerce.number(question));
}

/** One measurement in quarantine, as the form sends it. Bounds: what a thermometer and a meter of the bench can show. */
export const watchFormSchema = z
  .object({
    surfaceC: decimal("Give the surface temperature.").pipe(z.number().min(-60).max(1200)),
    ambientC: decimal("Give the temperature of the room.").pipe(z.number().min(-60).max(80)),
    terminalV: z
      .string()
      .trim()
      .transform((typed) => (typed === "" ? null : Number(typed.replace(",", "."))))
      .refine((volts) => volts === null || (volts >= 0 && volts <= 2000), "A voltage, or nothing."),
    noVoltageBecause: storableText({
      least: 0,
      most: 500,
      tooShort: "",
      tooLong: "At most 500 characters.",
    }).default(""),
  })
  .refine(({ terminalV, noVoltageBecause }) => terminalV !== null || noVoltageBecause.length >= 5, {
    path: ["noVoltageBecause"],
    message: "Measure the voltage, or say why it was not safe to connect.",
  })
  .transform(({ noVoltageBecause, ...measured }) => ({
    ...measured,
    noVoltageBecause: measured.terminalV === null ? noVoltageBecause : null,
  }));

/** With the end of a stay: why faces of the pack were not photographed, where some are missing. */
export const releaseFormSchema = z.object({
  noFacesBecause: z
    .union([
      z.literal("").transform(() => null),
      storableText({
        least: 10,
        most: 500,
        tooShort: "Write in a sentence why they were not photographed.",
        tooLong: "At most 500 characters.",
      }),
    ])
    .default(null),
});
export type StayToEnd = z.output<typeof releaseFormSchema>;

/** Why a watch begins anew. */
export const watchRestartSchema = z.object({
  why: storableText({
    least: 10,
    most: 2000,
    tooShort: "Write what was looked at and why the watch begins anew.",
    tooLong: "At most 2000 characters.",
  }),
});
