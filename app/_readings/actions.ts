"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { addReadings } from "@/lib/data/readings/add-readings";
import { addReadingsSchema } from "@/lib/returns/add-readings.schema";

const sentSchema = addReadingsSchema.extend({ reference: z.string().max(40) });

export async function addReadingsAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("add-readings");
  const read = sentSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference, ...added } = read.data;
  const answer = await addReadings(actor, reference, added);
  if (!answer.ok) return refusedForm(before, form, [{ field: "why", sentence: answer.sentence }]);
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done", sentence: "The readings are added and count from now on." };
}
