"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { orderComesBack } from "@/lib/data/comes-back";
import { comesBackOrderSchema } from "@/lib/returns/comes-back.schema";

const referenceSchema = z.object({ reference: z.string().max(40) });

export async function orderComesBackAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("receive-pack", "state-nothing-owed");
  const of = referenceSchema.safeParse(Object.fromEntries(form));
  const read = comesBackOrderSchema.safeParse(Object.fromEntries(form));
  if (!of.success) return refusedForm(before, form, problemsOf(of.error.issues));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await orderComesBack(actor, of.data.reference, read.data);
  if (!answer.ok) return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }]);
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done", sentence: read.data.order === "comes-back" ? "The dealer is told." : "Recorded." };
}
