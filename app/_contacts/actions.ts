"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { eraseSafetyContact, keepSafetyContact, revealSafetyContact } from "@/lib/data/returns/safety-contact";
import { revealSchema, safetyContactSchema } from "@/lib/returns/safety-contact.schema";

const reference = z.string().max(40);

export async function keepContactAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("read-own-contact");
  const read = safetyContactSchema.extend({ reference }).safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await keepSafetyContact(actor, read.data.reference, read.data.contact);
  if (answer.ok) revalidatePath(`/dealer/returns/${read.data.reference}`);
  return answerState(answer, "The contact is kept, for safety notices alone.");
}

export async function eraseContactAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("read-own-contact");
  const read = reference.safeParse(form.get("reference"));
  if (!read.success) return unreadForm(read.error);
  const answer = await eraseSafetyContact(actor, read.data);
  if (answer.ok) revalidatePath(`/dealer/returns/${read.data}`);
  return answerState(answer, "The contact is erased.");
}

/** The contact comes with the answer and stands in no page, so that it is on no screen but that of whoever asked. */
export async function revealContactAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("reveal-contact");
  const read = revealSchema.extend({ reference }).safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await revealSafetyContact(actor, read.data.reference, read.data.why);
  if (answer.ok) revalidatePath(`/bench/${read.data.reference}`);
  return answerState(answer, answer.ok ? answer.contact : "");
}
