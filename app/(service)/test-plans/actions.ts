"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { submitVerdict } from "@/app/_two-people/submit-verdict";
import type { Actor } from "@/lib/access/actor";
import type { Verdict } from "@/lib/access/two-people";
import { requireActor } from "@/lib/auth/session";
import { planProposalSchema } from "@/lib/bench-tests/plan-proposal";
import { proposeTestPlan, settleTestPlan } from "@/lib/data/bench-tests/test-plans";

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

export async function settlePlanAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  return submitVerdict(before, form, { act: "approve-test-plan", path: "/test-plans", settle: settlePlan });
}

async function settlePlan(actor: Actor, id: string, verdict: Verdict) {
  const answer = await settleTestPlan(actor, id, verdict);
  return answer.ok
    ? answer
    : { ok: false as const, sentence: answer.problems.map(({ sentence }) => sentence).join(" ") };
}
