"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { submitVerdict } from "@/app/_two-people/submit-verdict";
import { requireActor } from "@/lib/auth/session";
import { proposeThresholds, settleThresholds } from "@/lib/data/readings/threshold-versions";
import { thresholdProposalSchema } from "@/lib/diagnosis/threshold-proposal";

export async function proposeThresholdsAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-thresholds");
  const typed = Object.fromEntries(form);
  const read = thresholdProposalSchema.safeParse(typed);
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await proposeThresholds(actor, read.data, typed);
  if (!answer.ok) return refusedForm(before, form, answer.problems);
  revalidatePath("/thresholds", "layout");
  return { kind: "done", sentence: "Proposed. It counts from its first day on, once a manager has approved it." };
}

export async function settleThresholdsAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  return submitVerdict(before, form, { act: "approve-thresholds", path: "/thresholds", settle: settleThresholds });
}
