import { z } from "zod";
import { readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import { isCalendarDate } from "@/lib/warranty/calendar";

// An untouched field of a form arrives as an empty text; the optional fields read it as missing. Problems are pushed
// rather than aborting, so that the rules over several fields still run and the form shows everything at once.

const noSuchDay = "This day does not exist. Give year, month and day.";

/** A serial as typed, scanned or pasted; read to its canonical form. */
export const serialField = z.string("Scan the label or type the serial printed on it.").transform((typed, context) => {
  const reading = readSerial(typed);
  if (reading.kind === "serial") return reading.serial;
  context.issues.push({ code: "custom", message: serialSentence(reading), input: typed });
  return z.NEVER;
});

/** A day that must be given; the question is asked again where it is missing. */
export function dateField(question: string) {
  return z.string(question).transform((typed, context) => {
    if (isCalendarDate(typed)) return typed;
    context.issues.push({ code: "custom", message: typed === "" ? question : noSuchDay, input: typed });
    return z.NEVER;
  });
}

export const optionalDateField = z
  .string(noSuchDay)
  .transform((typed, context) => {
    if (typed === "") return undefined;
    if (isCalendarDate(typed)) return typed;
    context.issues.push({ code: "custom", message: noSuchDay, input: typed });
    return z.NEVER;
  })
  .optional();

/** One of a closed list, or nothing. */
export function optionalChoice<Choice extends string>(choices: readonly Choice[]) {
  return z
    .enum([...choices, ""], "Choose one of the answers.")
    .transform((choice) => choices.find((known) => known === choice))
    .optional();
}
