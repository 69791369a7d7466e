"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { planProposalSchema } from "@/lib/bench-tests/plan-proposal";
import { proposeTestPlan, settleTestPlan } from "@/lib/data/test-plans";

export async function proposePlanAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-test-plan");
  const typed = Object.fromEntries(form);
  const read = planProposalSchema.safeParse(typed);
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await proposeTestPlan(actor, read.data, typed);
  if (!answer.ok) return refusedForm(before, form, answer.problems);
  revalidatePath("/test-plans", "layout");
  return { kind: "done", sentence: "Proposed. It counts once somebody else has approved it." };
}

const settleSchema = z.object({ id: z.uuid(), verdict: z.enum(["approved", "dropped"]) });

export async function settlePlanAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("approve-test-plan");
  const read = settleSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await settleTestPlan(actor, read.data.id, read.data.verdict);
  if (!answer.ok) return refusedForm(before, form, answer.problems);
  revalidatePath("/test-plans", "layout");
  return { kind: "done", sentence: read.data.verdict === "approved" ? "Approved." : "Dropped." };
}
