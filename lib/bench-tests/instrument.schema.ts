import { z } from "zod";
import { dateText } from "@/lib/warranty/date-text";
import { asFoundStates } from "./doubtful-result";
import { instrumentKinds } from "./instrument-kinds";

const smallNumber = (sentence: string, most: number) =>
  z
    .string()
    .trim()
    .transform((text) => text.replace(",", "."))
    .pipe(
      z
        .string()
        .regex(/^[0-9]{1,6}([.][0-9]{1,6})?$/, sentence)
        .transform(Number)
        .pipe(z.number().max(most, sentence)),
    );

export const instrumentSchema = z.object({
  code: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^[A-Z0-9][A-Z0-9-]{1,19}$/, "What is written on it: letters, digits and dashes, such as V-02."),
  kind: z.enum(instrumentKinds, "Choose the kind."),
  description: z.string().trim().min(3, "Say what it is, for example the range.").max(200),
});
export type NewInstrument = z.output<typeof instrumentSchema>;

export const calibrationSchema = z
  .object({
    code: z.string().max(20),
    outcome: z.enum(["passed", "out-of-use"], "Choose what came of it."),
    asFound: z.enum(asFoundStates, "Say how it was found, before anybody adjusted it."),
    calibratedOn: dateText("The day of the certificate"),
    dueOn: z
      .string()
      .trim()
      .transform((text) => (text === "" ? null : text))
      .pipe(dateText("The last day of use").nullable()),
    uncertaintyPercent: smallNumber("Percent of the value as a number, 0 where there is none.", 100),
    uncertaintyFloor: smallNumber("A number in the unit of the instrument, 0 where there is none.", 999_999),
    certificate: z.string().trim().min(3, "Name the certificate, or why it is out of use.").max(200),
  })
  .refine(({ outcome, dueOn }) => (outcome === "passed") === (dueOn !== null), {
    path: ["dueOn"],
    message: "A calibration has a last day of use; what is out of use has none.",
  })
  .refine(({ calibratedOn, dueOn }) => dueOn === null || dueOn >= calibratedOn, {
    path: ["dueOn"],
    message: "The last day of use lies before the calibration.",
  })
  .refine(
    ({ outcome, uncertaintyPercent, uncertaintyFloor }) =>
      outcome === "out-of-use" || uncertaintyPercent + uncertaintyFloor > 0,
    {
      path: ["uncertaintyFloor"],
      message: "Every instrument is uncertain: give percent, or an amount in its unit.",
    },
  );
export type NewCalibration = z.output<typeof calibrationSchema>;
