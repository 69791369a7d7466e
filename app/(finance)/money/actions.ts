"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { nothingOwedSchema, stateNothingOwed } from "@/lib/data/money/nothing-owed";
import { moveLine } from "@/lib/data/money/settlement-moves";
import { endRate, type RateAnswer, setRate } from "@/lib/data/money/settlement-rates";
import { closeStatement, payStatement } from "@/lib/data/money/settlement-statements";
import { readLineChangesSince } from "@/lib/data/returns/changes-since";
import { rateEndSchema, rateSchema } from "@/lib/settlement/claim.schema";

const moveSchema = z.object({
  lineId: z.uuid(),
  name: z.enum(["check", "approve", "refuse", "reverse"]),
  seenVersion: z.coerce.number().int().min(1),
  reason: z.string().trim().max(500).default(""),
});

export async function moveLineAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("check-money", "approve-money");
  const read = moveSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await moveLine(actor, read.data);
  if (!answer.ok && (answer.reason === "someone-changed-this" || answer.reason === "not-from-here")) {
    const meanwhile = await readLineChangesSince(actor, read.data.lineId, read.data.seenVersion);
    return refusedForm(before, form, [{ field: "form", sentence: answer.sentence }], meanwhile);
  }
  return settled(before, form, answer);
}

const closeSchema = z.object({ dealerId: z.uuid(), currency: z.string().length(3) });

export async function closeStatementAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("check-money");
  const read = closeSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return settled(before, form, await closeStatement(actor, read.data.dealerId, read.data.currency));
}

const paySchema = z.object({
  number: z.coerce.number().int().min(1),
  reason: z.string().trim().min(3, "Give the reference of the bank transfer.").max(80),
});

export async function payStatementAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("check-money");
  const read = paySchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return settled(before, form, await payStatement(actor, read.data.number, read.data.reason));
}

export async function setRateAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("set-rates");
  const read = rateSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return rated(before, form, await setRate(actor, read.data), "The rate is set.");
}

export async function endRateAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("set-rates");
  const read = rateEndSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return rated(before, form, await endRate(actor, read.data), "The rates are ended.");
}

function rated(before: FormAnswer, form: FormData, answer: RateAnswer, done: string): FormAnswer {
  if (!answer.ok) return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }]);
  revalidatePath("/money");
  return { kind: "done", sentence: done };
}

export async function stateNothingOwedAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("state-nothing-owed");
  const read = nothingOwedSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return settled(before, form, await stateNothingOwed(actor, read.data));
}

function settled(
  before: FormAnswer,
  form: FormData,
  answer:
    | { readonly ok: true; readonly leftOut?: readonly string[] }
    | { readonly ok: false; readonly sentence: string },
): FormAnswer {
  if (!answer.ok) return refusedForm(before, form, [{ field: "form", sentence: answer.sentence }]);
  revalidatePath("/money");
  const leftOut = answer.leftOut ?? [];
  return { kind: "done", sentence: leftOut.length === 0 ? "Done." : `Done. Left out: ${leftOut.join(" ")}` };
}
