"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { type OldPackAnswer, orderOldPack, recycleOldPack, sendOldPack } from "@/lib/data/old-pack";
import { certificateSchema, orderForOldPackSchema } from "@/lib/returns/old-pack.schema";

const reference = z.string().max(40);
const orderSchema = orderForOldPackSchema.extend({ reference });
const recycleSchema = certificateSchema.extend({ reference });
const sendSchema = z.object({ reference });

export async function orderOldPackAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("approve-return");
  const read = orderSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return settle(before, form, await orderOldPack(actor, read.data.reference, read.data), "The dealer is told.");
}

export async function sendOldPackAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("confirm-at-counter");
  const read = sendSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return settle(before, form, await sendOldPack(actor, read.data.reference), "Recorded: it is with the carrier.");
}

export async function recycleOldPackAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("confirm-at-counter");
  const read = recycleSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference: of, certificate } = read.data;
  return settle(before, form, await recycleOldPack(actor, of, certificate), "Recorded: it is with the recycler.");
}

function settle(before: FormAnswer, form: FormData, answer: OldPackAnswer, done: string): FormAnswer {
  if (!answer.ok) return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }]);
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done", sentence: done };
}
