"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { submitVerdict } from "@/app/_two-people/submit-verdict";
import { requireActor } from "@/lib/auth/session";
import { proposePolicy, settlePolicy } from "@/lib/data/warranty/policies";
import { policyProposalSchema } from "@/lib/warranty/policy-proposal.schema";

export async function proposePolicyAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-policy");
  const read = policyProposalSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await proposePolicy(actor, read.data);
  if (!answer.ok) {
    const field = answer.reason === "day-past" ? "validFrom" : "version";
    return refusedForm(before, form, [{ field, sentence: answer.sentence }]);
  }
  revalidatePath("/policies");
  return { kind: "done", sentence: "Proposed. It counts once another manager has approved it." };
}

export async function settlePolicyAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  return submitVerdict(before, form, { act: "approve-policy", path: "/policies", settle: settlePolicy });
}
