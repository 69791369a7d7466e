"use server";

import {
  submitClose,
  submitDeputy,
  submitEdit,
  submitInvite,
  submitInviteAgain,
  submitOpenAgain,
} from "@/app/_accounts/submit-account";
import type { AnswerState } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";

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
