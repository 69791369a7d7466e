"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { requireActor } from "@/lib/auth/session";
import { readBenchReturn } from "@/lib/data/bench-returns";
import { decideReturn, type MoveAnswer, takeReturn } from "@/lib/data/move-return";
import { changedSince } from "@/lib/returns/changed-since";
import { decisionSchema } from "@/lib/returns/decision.schema";
import type { MoveState } from "./move-state";

const reference = z.string().max(40);
const takeSchema = z.object({ reference, seenVersion: z.coerce.number().int().min(0) });
const decideSchema = z.object({ reference, decision: decisionSchema });

const unreadable: MoveState = {
  kind: "refused",
  sentence: "Reload the page: what it sent could not be read.",
  changes: [],
};

export async function takeReturnAction(_before: MoveState, form: FormData): Promise<MoveState> {
  const actor = await requireActor("take-return");
  const read = takeSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadable;
  const answer = await takeReturn(actor, read.data.reference, read.data.seenVersion);
  return stateAfter(actor, read.data, answer);
}

export async function decideReturnAction(sent: unknown): Promise<MoveState> {
  const actor = await requireActor("propose-decision");
  const read = decideSchema.safeParse(sent);
  if (!read.success) return unreadable;
  const { decision } = read.data;
  const answer = await decideReturn(actor, read.data.reference, decision);
  return stateAfter(actor, { reference: read.data.reference, seenVersion: decision.seenVersion }, answer);
}

/** Done, or refused with what others did meanwhile. The page is read anew either way only where something changed. */
async function stateAfter(
  actor: Actor,
  seen: { readonly reference: string; readonly seenVersion: number },
  answer: MoveAnswer,
): Promise<MoveState> {
  if (answer.ok) {
    revalidatePath("/bench", "layout");
    return { kind: "done" };
  }
  if (answer.reason !== "someone-changed-this" && answer.reason !== "not-from-here") {
    return { kind: "refused", sentence: answer.sentence, changes: [] };
  }
  const now = await readBenchReturn(actor, seen.reference);
  return { kind: "refused", sentence: answer.sentence, changes: changedSince(now?.moves ?? [], seen.seenVersion) };
}
