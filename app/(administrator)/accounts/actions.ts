"use server";

import { revalidatePath } from "next/cache";
import {
  submitClose,
  submitDeputy,
  submitEdit,
  submitInvite,
  submitInviteAgain,
  submitOpenAgain,
} from "@/app/_accounts/submit-account";
import type { AnswerState } from "@/app/_components/answer-state";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { dealerChangeSchema } from "@/lib/access/dealer-change.schema";
import { newDealerSchema } from "@/lib/access/new-dealer.schema";
import { requireActor } from "@/lib/auth/session";
import { addDealer } from "@/lib/data/accounts/add-dealer";
import { changeDealer } from "@/lib/data/accounts/change-dealer";

export async function inviteAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  return submitInvite(await requireActor("manage-all-accounts", "manage-staff-accounts"), form);
}

export async function inviteAgainAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  return submitInviteAgain(await requireActor("manage-all-accounts", "manage-staff-accounts"), form);
}

export async function editAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  return submitEdit(await requireActor("manage-all-accounts", "manage-staff-accounts"), form);
}

export async function closeAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  return submitClose(await requireActor("manage-all-accounts", "manage-staff-accounts"), form);
}

export async function openAgainAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  return submitOpenAgain(await requireActor("manage-all-accounts", "manage-staff-accounts"), form);
}

export async function nameDeputyAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  return submitDeputy(await requireActor("manage-all-accounts"), form);
}

export async function addDealerAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("keep-dealers");
  const read = newDealerSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await addDealer(actor, read.data);
  if (!answer.ok) {
    const field = answer.reason === "day-to-come" ? "joinedOn" : "code";
    return refusedForm(before, form, [{ field, sentence: answer.sentence }]);
  }
  revalidatePath("/accounts");
  return { kind: "done", sentence: `${read.data.name} is added. Open its first account above.` };
}

export async function changeDealerAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("keep-dealers");
  const read = dealerChangeSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await changeDealer(actor, read.data);
  if (!answer.ok) return refusedForm(before, form, [{ field: "name", sentence: answer.sentence }]);
  revalidatePath("/accounts");
  return { kind: "done", sentence: `It is ${read.data.name}, ${read.data.town}, from now on.` };
}
