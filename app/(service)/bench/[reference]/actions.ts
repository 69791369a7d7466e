"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { type MoveState, refused } from "@/app/_components/move-state";
import { stateAfter, submitMove } from "@/app/_moves/submit-move";
import { submitTrack } from "@/app/_moves/submit-track";
import { requireActor } from "@/lib/auth/session";
import { recordCollection } from "@/lib/data/returns/collect-pack";
import { makeMove } from "@/lib/data/returns/move-return";
import { decisionSchema } from "@/lib/returns/decision.schema";
import { type ProposalQuestion, proposalRefusedAt } from "@/lib/returns/proposal-refused-at";
import { statedFactsSchema } from "@/lib/returns/return-facts";
import { specialistCollectionSchema } from "@/lib/returns/specialist-collection.schema";
import { trackRefusedAt } from "@/lib/returns/track-step";

const proposalSchema = z.object({
  reference: z.string().max(40),
  decision: decisionSchema,
  stated: statedFactsSchema,
});

const collectionSchema = specialistCollectionSchema.extend({ reference: z.string().max(40) });

export async function moveAction(_before: MoveState, form: FormData): Promise<MoveState> {
  return submitMove(await requireActor("read-queue"), form);
}

export async function trackAction(_before: MoveState, form: FormData): Promise<MoveState> {
  return submitTrack(await requireActor("read-queue"), form);
}

export interface ProposalAnswer {
  readonly state: MoveState;
  /** The question of the desk that a refusal stands at; null where it is about none. */
  readonly at: ProposalQuestion | null;
}

export async function proposeAction(sent: unknown): Promise<ProposalAnswer> {
  const actor = await requireActor("propose-decision");
  const read = proposalSchema.safeParse(sent);
  if (!read.success) return { state: refused("Reload the page: what it sent could not be read."), at: null };
  const { reference, decision, stated } = read.data;
  const { reason, seenVersion } = decision;
  const answer = await makeMove(actor, reference, { name: "propose", reason, seenVersion, stated, decision });
  const state = await stateAfter(actor, { reference, name: "propose", seenVersion, typed: {} }, answer);
  return { state, at: answer.ok ? null : proposalRefusedAt(answer.reason, { decision, stated }) };
}

export async function collectionAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("lower-safety");
  const read = collectionSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference, ...collection } = read.data;
  const answer = await recordCollection(actor, reference, collection);
  if (!answer.ok) {
    const field = trackRefusedAt(answer.reason) ?? "collectedBy";
    return refusedForm(before, form, [{ field, sentence: answer.sentence }]);
  }
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done", sentence: "Recorded. Its safety flag is as it was." };
}
