"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { dropDraft } from "@/lib/data/returns/return-drafts";

const keySchema = z.object({ clientKey: z.uuid("Reload the page: it does not know which one this is.") });

export async function dropDraftAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("lodge-return");
  const read = keySchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  await dropDraft(actor, read.data.clientKey);
  revalidatePath("/dealer");
  return { kind: "done", sentence: "Thrown away." };
}
