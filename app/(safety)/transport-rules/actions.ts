"use server";

import { revalidatePath } from "next/cache";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { confirmTransportRules, ruleConfirmationSchema } from "@/lib/data/transport-rules";

export async function confirmRulesAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("confirm-transport-rules");
  const read = ruleConfirmationSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await confirmTransportRules(actor, String(form.get("fingerprint") ?? ""), read.data);
  if (answer.ok) revalidatePath("/", "layout");
  return answerState(answer, "The confirmation is recorded.");
}
