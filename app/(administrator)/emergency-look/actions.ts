"use server";

import { redirect } from "next/navigation";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { emergencyLookSchema } from "@/lib/access/emergency-look";
import { requireActor } from "@/lib/auth/session";
import { openEmergencyLook } from "@/lib/data/returns/emergency-look";

export async function openLookAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("look-in-emergency");
  const read = emergencyLookSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await openEmergencyLook(actor, read.data);
  if (!answer.ok) return refusedForm(before, form, [{ field: "reference", sentence: answer.sentence }]);
  redirect(`/emergency-look/${encodeURIComponent(answer.reference)}`);
}
