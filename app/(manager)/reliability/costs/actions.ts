"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { submitVerdict } from "@/app/_two-people/submit-verdict";
import { requireActor } from "@/lib/auth/session";
import { type CostAnswer, proposeCost, setExchangeRate, settleCost } from "@/lib/data/reliability/cost-assumptions";
import { costAssumptionSchema, exchangeRateSchema } from "@/lib/settlement/cost-assumption.schema";

export async function proposeCostAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-cost");
  const read = costAssumptionSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await proposeCost(actor, read.data);
  return answered(before, form, answer, "Proposed. It counts once another manager has approved it.");
}

export async function settleCostAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  return submitVerdict(before, form, { act: "approve-cost", path: "/reliability/costs", settle: settleCost });
}

export async function setExchangeRateAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("set-rates");
  const read = exchangeRateSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return answered(before, form, await setExchangeRate(actor, read.data), "The rate is set.");
}

const fieldOf = {
  "not-allowed": "form",
  "no-such-day": "validFrom",
  "no-such-model": "model",
  "day-taken": "validFrom",
  "day-past": "validFrom",
  "version-taken": "form",
  "same-currency": "currency",
  "not-found": "form",
  "same-person": "form",
  settled: "form",
} as const;

function answered(before: FormAnswer, form: FormData, answer: CostAnswer, done: string): FormAnswer {
  if (!answer.ok) return refusedForm(before, form, [{ field: fieldOf[answer.reason], sentence: answer.sentence }]);
  revalidatePath("/reliability/costs");
  return { kind: "done", sentence: done };
}
