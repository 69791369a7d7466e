"use server";

import { z } from "zod";
import { type MoveState, refused } from "@/app/_components/move-state";
import { stateAfter, submitMove } from "@/app/_moves/submit-move";
import { submitTrack } from "@/app/_moves/submit-track";
import { requireActor } from "@/lib/auth/session";
import { makeMove } from "@/lib/data/returns/move-return";
import { decisionSchema } from "@/lib/returns/decision.schema";
import { type ProposalQuestion, proposalRefusedAt } from "@/lib/returns/proposal-refused-at";
import { statedFactsSchema } from "@/lib/returns/return-facts";

const proposalSchema = z.object({
  reference: z.string().max(40),
  decision: decisionSchema,
  stated: statedFactsSchema,
});

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
