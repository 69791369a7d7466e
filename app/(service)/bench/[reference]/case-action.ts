"use server";

import { revalidatePath } from "next/cache";
import { requireActor } from "@/lib/auth/session";
import { recordCaseReading } from "@/lib/data/readings/case-readings";
import { caseReadingSchema } from "@/lib/returns/case-reading.schema";

export interface CaseState {
  /** What went wrong, as a sentence; null while nothing did. */
  readonly problem: string | null;
}

export async function recordCaseAction(_before: CaseState, form: FormData): Promise<CaseState> {
  const actor = await requireActor("test-pack");
  const read = caseReadingSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return { problem: `${read.error.issues[0]?.message ?? "This could not be read"}.` };
  const answer = await recordCaseReading(actor, read.data.reference, read.data.gapMillimetre);
  if (!answer.ok) return { problem: "This reading was not kept: the return is not there, or not yours to test." };
  revalidatePath("/bench", "layout");
  return { problem: null };
}
