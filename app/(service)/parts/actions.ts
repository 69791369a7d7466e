"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { bookPartsIn } from "@/lib/data/bench-tests/parts";
import { partReceiptSchema } from "@/lib/repair/work-entry.schema";

export async function bookPartsInAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("work-on-pack");
  const read = partReceiptSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await bookPartsIn(actor, read.data);
  if (!answer.ok) return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }]);
  revalidatePath("/parts");
  return { kind: "done", sentence: "Booked in." };
}
