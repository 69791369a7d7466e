"use server";

import { revalidatePath } from "next/cache";
import { type AnswerState, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { quarantinePlaceSchema, setQuarantinePlace } from "@/lib/data/receiving/quarantine-places";

export async function setPlaceAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("set-quarantine-places");
  const read = quarantinePlaceSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  await setQuarantinePlace(actor, read.data);
  revalidatePath("/quarantine");
  return { kind: "done", sentence: `${read.data.code} is set.` };
}
