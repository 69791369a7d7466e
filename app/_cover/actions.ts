"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { proveSale } from "@/lib/data/warranty/cover-proof";
import { proofOfSaleSchema } from "@/lib/warranty/proof-of-sale.schema";

const sentSchema = proofOfSaleSchema.extend({ reference: z.string().max(40) });

export async function proveSaleAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("confirm-proof");
  const read = sentSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference, ...proof } = read.data;
  const answer = await proveSale(actor, reference, proof);
  if (!answer.ok) return refusedForm(before, form, [{ field: "provenSoldOn", sentence: answer.sentence }]);
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done", sentence: "The answer on cover is given anew; the one before stays below it." };
}
