"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import type { MoveState } from "@/app/_components/move-state";
import { submitMove } from "@/app/_moves/submit-move";
import { submitTrack } from "@/app/_moves/submit-track";
import { requireActor } from "@/lib/auth/session";
import { recordPackingCheck } from "@/lib/data/packing-check";

export async function moveAction(_before: MoveState, form: FormData): Promise<MoveState> {
  return submitMove(await requireActor("read-own-returns"), form);
}

export async function trackAction(_before: MoveState, form: FormData): Promise<MoveState> {
  return submitTrack(await requireActor("raise-safety"), form, ["safety", "remedy"]);
}

const tickSchema = z.object({
  reference: z.string().max(40),
  ticked: z.array(z.coerce.number().int().min(0).max(999)).max(1000),
  seenDeclarations: z.coerce.number("Reload the page: it does not know what it shows.").int().min(1),
});

export async function tickPackingAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("confirm-at-counter");
  const read = tickSchema.safeParse({ ...Object.fromEntries(form), ticked: form.getAll("ticked") });
  if (!read.success) return unreadForm(read.error);
  const { reference, ...ticks } = read.data;
  const answer = await recordPackingCheck(actor, reference, ticks);
  if (answer.ok) revalidatePath(`/dealer/returns/${reference}`);
  return answerState(answer, "The checklist is kept with your name.");
}
