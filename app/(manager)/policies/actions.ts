"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { proposePolicy, settlePolicy } from "@/lib/data/policies";
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

const settleSchema = z.object({ version: z.string().max(40), verdict: z.enum(["approved", "dropped"]) });

export async function settlePolicyAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("approve-policy");
  const read = settleSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await settlePolicy(actor, read.data.version, read.data.verdict);
  if (!answer.ok) return refusedForm(before, form, [{ field: "form", sentence: answer.sentence }]);
  revalidatePath("/policies");
  return { kind: "done", sentence: read.data.verdict === "approved" ? "Approved." : "Dropped." };
}
