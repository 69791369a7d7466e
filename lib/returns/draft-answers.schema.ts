import { z } from "zod";
import { conditions } from "./conditions";
import { dangerAnswers } from "./danger-signs";
import { noFileReasons } from "./no-file-reasons";
import { replacedReasons } from "./replaced-pack";
import { saleEvidences } from "./sale-evidence";
import { symptoms } from "./symptoms";

/** Far beyond any answer of the form; a longer text is none. */
const text = z.string().max(4000).catch("");

/**
 * The answers of a return that is not sent yet, as the form holds them. An answer that no longer fits (an older release
 * wrote it) is dropped alone; the others are kept. Answers without a key of their own get one from whoever reads them.
 */
export function draftAnswersSchema(newClientKey: () => string) {
  return (
    z
      .object({
        clientKey: z.uuid().catch(() => newClientKey()),
        dangerSigns: z.array(z.enum(dangerAnswers)).catch([]),
        serial: text,
        replacedBecause: z.enum([...replacedReasons, ""]).catch(""),
        soldOnStated: text,
        soldOnEvidence: z.enum([...saleEvidences, ""]).catch(""),
        noticedOn: text,
        toldOn: text,
        concern: text,
        symptom: z.enum(symptoms).nullable().catch(null),
        conditions: z.array(z.enum(conditions)).catch([]),
        readingFileId: text,
        noFileReason: z.enum([...noFileReasons, ""]).catch(""),
      })
      // Nothing chosen yet is no value at all, not an empty one.
      .transform(({ symptom, ...others }) => (symptom === null ? others : { ...others, symptom }))
  );
}

export type DraftAnswers = z.output<ReturnType<typeof draftAnswersSchema>>;

/** The serial alone, as typed; none where nothing was typed or what was kept is no text. */
export function serialInAnswers(answers: unknown): string {
  return z.object({ serial: text }).parse(answers).serial;
}

/** A form in which nothing was answered yet is no draft. The danger question comes first, so it is the first sign of one. */
export function isWorthKeeping({ dangerSigns, serial }: Pick<DraftAnswers, "dangerSigns" | "serial">): boolean {
  return dangerSigns.length > 0 || serial !== "";
}
