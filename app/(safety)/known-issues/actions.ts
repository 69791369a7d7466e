"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { submitVerdict } from "@/app/_two-people/submit-verdict";
import { requireActor } from "@/lib/auth/session";
import { proposeClosing, proposeIssue, settleIssueProposal } from "@/lib/data/safety/issue-proposals";
import { closeIssueSchema, openIssueSchema } from "@/lib/packs/issue-proposal";

const proposed = "Proposed. It counts once a manager or the safety officer, not you, has approved it.";

export async function proposeIssueAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-known-issue");
  const read = openIssueSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await proposeIssue(actor, read.data);
  if (!answer.ok) return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }]);
  revalidatePath("/known-issues", "layout");
  return { kind: "done", sentence: proposed };
}

export async function proposeClosingAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-known-issue");
  const read = closeIssueSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await proposeClosing(actor, read.data);
  if (!answer.ok) return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }]);
  revalidatePath("/known-issues", "layout");
  return { kind: "done", sentence: proposed };
}

export async function settleIssueAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  return submitVerdict(before, form, {
    act: "approve-known-issue",
    path: "/known-issues",
    settle: settleIssueProposal,
  });
}
