"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { requireActor } from "@/lib/auth/session";
import { lookUpPack, type PackLookUp } from "@/lib/data/packs/packs";
import { type LodgeAnswer, lodgeReturn } from "@/lib/data/returns/lodge-return";
import { type DraftAnswer, dropDraft, keepDraft, readDraft } from "@/lib/data/returns/return-drafts";

import { draftAnswersSchema } from "@/lib/returns/draft-answers.schema";
import { lodgeReturnSchema } from "@/lib/returns/lodge-return.schema";
import { type Draft, keptReadingSchema } from "./draft";
import { toDraft } from "./kept-draft";
import { problemsIn } from "./lodge-problems";

/** Far beyond any label text; a longer paste is no serial and need not travel further. */
const LONGEST_TYPED_CHARACTERS = 2000;

export async function lookUpSerialAction(typed: unknown): Promise<PackLookUp> {
  const actor = await requireActor("lodge-return");
  return lookUpPack(actor, typeof typed === "string" ? typed.slice(0, LONGEST_TYPED_CHARACTERS) : "");
}

export async function lodgeReturnAction(answers: unknown): Promise<LodgeAnswer> {
  const actor = await requireActor("lodge-return");
  const read = lodgeReturnSchema.safeParse(answers);
  if (!read.success) return { ok: false, problems: problemsIn(read.error) };
  const answer = await lodgeReturn(actor, read.data);
  if (answer.ok) revalidatePath("/dealer");
  return answer;
}

const keptSchema = z.object({
  answers: draftAnswersSchema(() => crypto.randomUUID()),
  reading: keptReadingSchema,
  seenVersion: z.int().min(0).max(1_000_000),
});

/** Keeps the answers so far for the whole workshop; the form calls it while it is filled in. */
export async function keepDraftAction(sent: unknown): Promise<DraftAnswer> {
  const actor = await requireActor("lodge-return");
  const draft = keptSchema.parse(sent);
  return keepDraft(actor, draft);
}

/** The newest copy of the same answers, after another device went on with them. */
export async function fetchDraftAction(clientKey: unknown): Promise<Draft | null> {
  const actor = await requireActor("lodge-return");
  const found = await readDraft(actor, z.uuid().parse(clientKey));
  return found === null ? null : toDraft(found);
}

export async function forgetKeptDraftAction(clientKey: unknown): Promise<void> {
  const actor = await requireActor("lodge-return");
  await dropDraft(actor, z.uuid().parse(clientKey));
  revalidatePath("/dealer");
}
