"use server";

import { z } from "zod";
import { type MoveState, refused } from "@/app/_components/move-state";
import { stateAfter, submitMove } from "@/app/_moves/submit-move";
import { submitTrack } from "@/app/_moves/submit-track";
import { requireActor } from "@/lib/auth/session";
import { makeMove } from "@/lib/data/returns/move-return";
import { decisionSchema } from "@/lib/returns/decision.schema";
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

export async function proposeAction(sent: unknown): Promise<MoveState> {
  const actor = await requireActor("propose-decision");
  const read = proposalSchema.safeParse(sent);
  if (!read.success) return refused("Reload the page: what it sent could not be read.");
  const { reference, decision, stated } = read.data;
  const { reason, seenVersion } = decision;
  const answer = await makeMove(actor, reference, { name: "propose", reason, seenVersion, stated, decision });
  return stateAfter(actor, { reference, name: "propose", seenVersion, typed: {} }, answer);
}
