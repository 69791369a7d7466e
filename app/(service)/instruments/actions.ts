"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { calibrationSchema, instrumentSchema } from "@/lib/bench-tests/instrument.schema";
import { addInstrument, recordCalibration } from "@/lib/data/bench-tests/instruments";

export async function addInstrumentAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("keep-instruments");
  const read = instrumentSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await addInstrument(actor, read.data);
  if (!answer.ok) return refusedForm(before, form, [{ field: "code", sentence: answer.sentence }]);
  revalidatePath("/instruments");
  return { kind: "done", sentence: "Written down. It may be used once a certificate is added." };
}

export async function recordCalibrationAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("keep-instruments");
  const read = calibrationSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await recordCalibration(actor, read.data);
  if (!answer.ok) {
    const field = answer.reason === "in-the-future" ? "calibratedOn" : "certificate";
    return refusedForm(before, form, [{ field, sentence: answer.sentence }]);
  }
  revalidatePath("/", "layout");
  return { kind: "done", sentence: "Kept." };
}
