"use server";

import { revalidatePath } from "next/cache";
import { requireActor } from "@/lib/auth/session";
import { type LodgeAnswer, lodgeReturn } from "@/lib/data/lodge-return";
import { lookUpPack, type PackLookUp } from "@/lib/data/packs";

import { lodgeReturnSchema } from "@/lib/returns/lodge-return.schema";
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
