"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { withdrawColumns } from "@/lib/data/readings/column-mappings";

const sentSchema = z.object({ id: z.uuid() });

export async function withdrawColumnsAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("withdraw-columns");
  const read = sentSchema.safeParse(Object.fromEntries(form));
  const answer = read.success
    ? await withdrawColumns(actor, read.data.id)
    : ({ ok: false, sentence: "Load this page again." } as const);
  if (!answer.ok) return refusedForm(before, form, [{ field: "id", sentence: answer.sentence }]);
  revalidatePath("/columns");
  return { kind: "done", sentence: "Forgotten. The next file with this header is asked about." };
}
