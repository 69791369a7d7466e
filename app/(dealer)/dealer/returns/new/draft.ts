import { z } from "zod";
import { draftPrefix } from "@/app/_components/drafts";
import { readingSummarySchema } from "@/app/_readings/reading-summary.schema";
import { draftAnswersSchema, isWorthKeeping } from "@/lib/returns/draft-answers.schema";
import type { LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { DAY_MS } from "@/lib/warranty/clock-spans";

/** Longer than any workshop needs to come back to a customer's pack; after that the answers are stale [own choice]. */
const KEPT_DAYS = 14;

function newClientKey(): string {
  return crypto.randomUUID();
}

/** What the form knows of a readings file, wherever it was kept. */
export const keptReadingSchema = z.object({ serial: z.string(), summary: readingSummarySchema }).nullable().catch(null);

const draftSchema = z.object({
  savedAtMs: z.number(),
  /** The version of the server's copy that these answers go on from; 0 where the server has none. */
  serverVersion: z.number().catch(0),
  /** Whether the server has these very answers, as far as this device knows. */
  hasReached: z.boolean().catch(true),
  answers: draftAnswersSchema(newClientKey),
  /** The file itself cannot be kept on the device; what the server made of it can, with the pack it belongs to. */
  reading: keptReadingSchema,
});

export type KeptReading = NonNullable<z.output<typeof keptReadingSchema>>;
export type Draft = z.output<typeof draftSchema>;

/** Where the answers of a person lie on the device; every tab of it shares them. */
export function keyOfOwner(owner: string): string {
  return draftPrefix + owner;
}

/** The answers kept on this device for this person, or an empty form with a key of its own. */
export function loadDraft(owner: string): Draft {
  const kept = draftSchema.safeParse(readStorage(keyOfOwner(owner)));
  if (kept.success && Date.now() - kept.data.savedAtMs < KEPT_DAYS * DAY_MS) return kept.data;
  return {
    savedAtMs: 0,
    serverVersion: 0,
    hasReached: true,
    answers: draftAnswersSchema(newClientKey).parse({}),
    reading: null,
  };
}

/** Keeps the answers; a form in which nothing was answered yet leaves nothing behind. */
export function saveDraft(
  owner: string,
  answers: LodgeReturnInput,
  kept: Pick<Draft, "reading" | "serverVersion" | "hasReached">,
): void {
  if (!isWorthKeeping(answers)) {
    forgetDraft(owner);
    return;
  }
  try {
    localStorage.setItem(keyOfOwner(owner), JSON.stringify({ savedAtMs: Date.now(), answers, ...kept }));
  } catch (error) {
    // Private windows and full disks: the form works on, only without a net.
    console.warn("The answers could not be kept on this device", error);
  }
}

export function forgetDraft(owner: string): void {
  try {
    localStorage.removeItem(keyOfOwner(owner));
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
