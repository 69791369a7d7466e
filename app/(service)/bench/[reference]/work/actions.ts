"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { recordWork, releasePack, strikeWork, type WorkAnswer } from "@/lib/data/bench-tests/work";
import { workEntrySchema } from "@/lib/repair/work-entry.schema";

export async function recordWorkAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("work-on-pack");
  const read = workEntrySchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return settle(before, form, await recordWork(actor, read.data), "Recorded.");
}

const strikeSchema = z.object({ reference: z.string().max(40), entryId: z.uuid(), reason: z.string().max(300) });

export async function strikeWorkAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("work-on-pack");
  const read = strikeSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference, entryId, reason } = read.data;
  return settle(before, form, await strikeWork(actor, reference, entryId, reason), "Struck out.");
}

const releaseSchema = z.object({ reference: z.string().max(40), signature: z.string().max(120) });

export async function releaseAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("release-pack");
  const read = releaseSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return settle(before, form, await releasePack(actor, read.data.reference, read.data.signature), "Released.");
}

function settle(before: FormAnswer, form: FormData, answer: WorkAnswer, done: string): FormAnswer {
  if (!answer.ok) return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }]);
  revalidatePath("/bench", "layout");
  revalidatePath("/parts");
  return { kind: "done", sentence: done };
}
