"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { tryLetterAgain } from "@/lib/data/notices/notice-post";

export async function tryAgainAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("read-queue");
  const letterId = z.uuid().safeParse(form.get("letterId"));
  const isTaken = letterId.success && (await tryLetterAgain(actor, letterId.data));
  if (!isTaken)
    return refusedForm(before, form, [{ field: "form", sentence: "This letter is not given up any more." }]);
  revalidatePath("/bench/post");
  return { kind: "done", sentence: "It is tried again." };
}
