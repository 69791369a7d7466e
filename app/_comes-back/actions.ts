"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { orderComesBack } from "@/lib/data/remedies/comes-back";
import { readComesBackChangesSince } from "@/lib/data/returns/changes-since";
import { comesBackOrderSchema } from "@/lib/returns/comes-back.schema";
import { seenOrdersSchema } from "@/lib/returns/old-pack.schema";

const seenSchema = z.object({ reference: z.string().max(40), seenOrders: seenOrdersSchema });

export async function orderComesBackAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("receive-pack", "state-nothing-owed");
  const of = seenSchema.safeParse(Object.fromEntries(form));
  const read = comesBackOrderSchema.safeParse(Object.fromEntries(form));
  if (!of.success) return refusedForm(before, form, problemsOf(of.error.issues));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference, seenOrders } = of.data;
  const answer = await orderComesBack(actor, reference, read.data, seenOrders);
  if (!answer.ok) {
    const meanwhile = answer.isStale ? await readComesBackChangesSince(actor, reference, seenOrders) : null;
    return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }], meanwhile);
  }
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done", sentence: read.data.order === "comes-back" ? "The dealer is told." : "Recorded." };
}
