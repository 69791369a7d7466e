"use server";

import { revalidatePath } from "next/cache";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import { type FormAnswer, refusedForm } from "@/app/_components/form-answer";
import { submitVerdict } from "@/app/_two-people/submit-verdict";
import { requireActor } from "@/lib/auth/session";
import { proposeTransportRules, settleTransportRules } from "@/lib/data/transport/transport-rule-versions";
import { confirmTransportRules, ruleConfirmationSchema } from "@/lib/data/transport/transport-rules";

export async function confirmRulesAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("confirm-transport-rules");
  const read = ruleConfirmationSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await confirmTransportRules(actor, String(form.get("fingerprint") ?? ""), read.data);
  if (answer.ok) revalidatePath("/", "layout");
  return answerState(answer, "The confirmation is recorded.");
}

export async function proposeTransportRulesAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-transport-rules");
  const answer = await proposeTransportRules(actor, Object.fromEntries(form));
  if (!answer.ok) return refusedForm(before, form, answer.problems);
  revalidatePath("/transport-rules", "layout");
  return { kind: "done", sentence: "Proposed. It counts once another person has approved it." };
}

export async function settleTransportRulesAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  return submitVerdict(before, form, {
    act: "approve-transport-rules",
    path: "/transport-rules",
    settle: settleTransportRules,
  });
}
