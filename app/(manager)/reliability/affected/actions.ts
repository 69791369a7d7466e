"use server";

import { revalidatePath } from "next/cache";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { beginAffectedSet, stepAffectedSet } from "@/lib/data/safety/affected-sets";
import { newSetSchema, setStepSchema } from "@/lib/reliability/affected-set";

export async function beginSetAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("propose-affected-set");
  const read = newSetSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await beginAffectedSet(actor, read.data);
  if (answer.ok) revalidatePath("/reliability/affected", "layout");
  return answerState(answer, answer.ok ? `It is kept as set ${answer.number}.` : "");
}

export async function stepSetAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("propose-affected-set");
  const read = setStepSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await stepAffectedSet(actor, read.data);
  if (answer.ok) revalidatePath("/reliability/affected", "layout");
  return answerState(answer, "It is recorded in your name.");
}
