import { z } from "zod";
import { draftPrefix } from "@/app/_components/drafts";
import { conditions } from "@/lib/returns/conditions";
import { dangerAnswers } from "@/lib/returns/danger-signs";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { noFileReasons } from "@/lib/returns/no-file-reasons";
import { saleEvidences } from "@/lib/returns/sale-evidence";
import { symptoms } from "@/lib/returns/symptoms";
import { readingSummarySchema } from "./reading-summary.schema";

/** Longer than any workshop needs to come back to a customer's pack; after that the answers are stale [own choice]. */
const KEPT_DAYS = 14;
const DAY_MS = 86_400_000;

// An answer that no longer fits (an older release wrote it) is dropped alone; the others are kept.
const answersSchema = z
  .object({
    clientKey: z.uuid().catch(() => crypto.randomUUID()),
    dangerSigns: z.array(z.enum(dangerAnswers)).catch([]),
    serial: z.string().catch(""),
    soldOnStated: z.string().catch(""),
    soldOnEvidence: z.enum([...saleEvidences, ""]).catch(""),
    noticedOn: z.string().catch(""),
    toldOn: z.string().catch(""),
    concern: z.string().catch(""),
    symptom: z.enum(symptoms).nullable().catch(null),
    conditions: z.array(z.enum(conditions)).catch([]),
    readingFileId: z.string().catch(""),
    noFileReason: z.enum([...noFileReasons, ""]).catch(""),
  })
  // Nothing chosen yet is no value at all, not an empty one.
  .transform(({ symptom, ...others }) => (symptom === null ? others : { ...others, symptom }));

const draftSchema = z.object({
  savedAtMs: z.number(),
  answers: answersSchema,
  /** The file itself cannot be kept on the device; what the server made of it can, with the pack it belongs to. */
  reading: z.object({ serial: z.string(), summary: readingSummarySchema }).nullable().catch(null),
});

export type DraftAnswers = z.output<typeof answersSchema>;
export type KeptReading = NonNullable<z.output<typeof draftSchema>["reading"]>;

export interface Draft {
  readonly answers: DraftAnswers;
  readonly reading: KeptReading | null;
}

/** The answers kept on this device for this person, or an empty form with a key of its own. */
export function loadDraft(owner: string): Draft {
  const kept = draftSchema.safeParse(readStorage(draftPrefix + owner));
  if (kept.success && Date.now() - kept.data.savedAtMs < KEPT_DAYS * DAY_MS) return kept.data;
  return { answers: answersSchema.parse({}), reading: null };
}

/** Keeps the answers; a form in which nothing was answered yet leaves nothing behind. */
export function saveDraft(owner: string, answers: LodgeReturnInput, reading: KeptReading | null): void {
  if (answers.dangerSigns.length === 0 && answers.serial === "") {
    forgetDraft(owner);
    return;
  }
  try {
    localStorage.setItem(draftPrefix + owner, JSON.stringify({ savedAtMs: Date.now(), answers, reading }));
  } catch (error) {
    // Private windows and full disks: the form works on, only without a net.
    console.warn("The answers could not be kept on this device", error);
  }
}

export function forgetDraft(owner: string): void {
  try {
    localStorage.removeItem(draftPrefix + owner);
  } catch (error) {
    console.warn("The answers could not be removed from this device", error);
  }
}

function readStorage(key: string): unknown {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "null");
  } catch (error) {
    console.warn("The answers kept on this device could not be read", error);
    return null;
  }
}
