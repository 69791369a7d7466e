"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { submitVerdict } from "@/app/_two-people/submit-verdict";
import { requireActor } from "@/lib/auth/session";
import { proposeLegalDuty, recordCounselsWord, settleLegalDuty } from "@/lib/data/warranty/legal-duty-versions";
import { counselsWordSchema, legalDutyProposalSchema } from "@/lib/warranty/legal-duty.schema";

const PAGES = "/policies/legal-duties";

export async function proposeLegalDutyAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-law");
  const read = legalDutyProposalSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await proposeLegalDuty(actor, read.data);
  if (!answer.ok) {
    const field = answer.reason === "day-past" ? "validFrom" : "version";
    return refusedForm(before, form, [{ field, sentence: answer.sentence }]);
  }
  revalidatePath(PAGES, "layout");
  return { kind: "done", sentence: "Proposed. It counts once another manager has approved it." };
}

export async function settleLegalDutyAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  return submitVerdict(before, form, { act: "approve-law", path: PAGES, settle: settleLegalDuty });
}

export async function recordCounselsWordAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("confirm-law");
  const read = counselsWordSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await recordCounselsWord(actor, read.data);
  if (!answer.ok) {
    const field = answer.reason === "day-to-come" ? "confirmedOn" : "statement";
    return refusedForm(before, form, [{ field, sentence: answer.sentence }]);
  }
  revalidatePath("/", "layout");
  return { kind: "done", sentence: "Counsel's word is recorded." };
}
