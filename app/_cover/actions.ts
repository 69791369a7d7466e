"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { chooseProof } from "@/lib/data/warranty/choose-proof";
import { proveSale } from "@/lib/data/warranty/cover-proof";
import { proofChoiceSchema, proofOfSaleSchema } from "@/lib/warranty/proof-of-sale.schema";

const reference = z.string().max(40);
const sentSchema = proofOfSaleSchema.extend({ reference });
const chosenSchema = proofChoiceSchema.extend({ reference });

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

export async function chooseProofAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("choose-proof");
  const read = chosenSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference, ...choice } = read.data;
  const answer = await chooseProof(actor, reference, choice);
  if (!answer.ok) return refusedForm(before, form, [{ field: "chosenOn", sentence: answer.sentence }]);
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done", sentence: "The answer on cover is given anew by your choice; the one before stays below it." };
}
