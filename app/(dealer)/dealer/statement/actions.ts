"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { claimMoney } from "@/lib/data/money/settlement-claims";
import { claimSchema } from "@/lib/settlement/claim.schema";

export async function claimMoneyAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("claim-money");
  const read = claimSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await claimMoney(actor, read.data);
  if (!answer.ok) return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }]);
  revalidatePath("/dealer/statement");
  return { kind: "done", sentence: answer.repeated ? "This was claimed already." : "Claimed. Finance checks it next." };
}
