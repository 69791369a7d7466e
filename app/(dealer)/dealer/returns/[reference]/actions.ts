"use server";

import type { AnswerState } from "@/app/_components/answer-state";
import type { MoveState } from "@/app/_components/move-state";
import { submitMove } from "@/app/_moves/submit-move";
import { submitTrack } from "@/app/_moves/submit-track";
import { submitTicks } from "@/app/_packing/submit-ticks";
import { requireActor } from "@/lib/auth/session";

export async function moveAction(_before: MoveState, form: FormData): Promise<MoveState> {
  return submitMove(await requireActor("read-own-returns"), form);
}

export async function trackAction(_before: MoveState, form: FormData): Promise<MoveState> {
  return submitTrack(await requireActor("raise-safety"), form, ["safety", "custody", "remedy"]);
}

export async function tickPackingAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  return submitTicks(await requireActor("confirm-at-counter"), form);
}
