import { revalidatePath } from "next/cache";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import {
  accountEditSchema,
  accountKeySchema,
  deputySchema,
  INVITATION_DAYS,
  newAccountSchema,
} from "@/lib/access/account-rules";
import type { Actor } from "@/lib/access/actor";
import { inviteAccount, inviteAgain } from "@/lib/auth/invitations";
import { closeAccount, editAccount, nameDeputy, openAccountAgain } from "@/lib/data/accounts/keep-accounts";

/** Reads the forms of the account pages, of the house and of a dealer alike; what may be done is the data layer's. */
export async function submitInvite(actor: Actor, form: FormData): Promise<AnswerState> {
  const read = newAccountSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await inviteAccount(actor, read.data);
  if (!answer.ok) return { kind: "refused", sentences: [answer.sentence] };
  revalidate();
  return { kind: "done", sentence: handOver(read.data.name, answer) };
}

export async function submitInviteAgain(actor: Actor, form: FormData): Promise<AnswerState> {
  const read = accountKeySchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await inviteAgain(actor, read.data.userId);
  return answer.ok
    ? { kind: "done", sentence: handOver("the person", answer) }
    : { kind: "refused", sentences: [answer.sentence] };
}

function handOver(
  name: string,
  { link, mailedTo }: { readonly link: string; readonly mailedTo: string | null },
): string {
  if (mailedTo !== null)
    return `A letter with the link went to ${mailedTo}. It sets the password once, within ${INVITATION_DAYS} days.`;
  return `Hand this link to ${name} alone. It sets the password once, within ${INVITATION_DAYS} days, and is shown only now: ${link}`;
}

export async function submitEdit(actor: Actor, form: FormData): Promise<AnswerState> {
  const read = accountEditSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const { userId, name, role } = read.data;
  const answer = await editAccount(actor, userId, { name, role });
  revalidate();
  return answerState(answer, "Changed. With a new role the person signs in again.");
}

export async function submitClose(actor: Actor, form: FormData): Promise<AnswerState> {
  const read = accountKeySchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await closeAccount(actor, read.data.userId);
  revalidate();
  return answerState(answer, "Closed. Every session of it has ended.");
}

export async function submitOpenAgain(actor: Actor, form: FormData): Promise<AnswerState> {
  const read = accountKeySchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await openAccountAgain(actor, read.data.userId);
  revalidate();
  return answerState(answer, "Open again, with the password it had.");
}

export async function submitDeputy(actor: Actor, form: FormData): Promise<AnswerState> {
  const read = deputySchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await nameDeputy(actor, read.data.userId, read.data.until);
  revalidate();
  return answerState(
    answer,
    read.data.until === null ? "No deputy any more." : "Named. It counts from the next page on.",
  );
}

function revalidate(): void {
  revalidatePath("/accounts");
  revalidatePath("/dealer/accounts");
}
