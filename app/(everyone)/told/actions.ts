"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { requireActor } from "@/lib/auth/session";
import { openToldNotice, readAllTold } from "@/lib/data/notices/told-to-you";

/** Opens what a notice is about, and marks it as read on the way there. */
export async function openToldAction(form: FormData): Promise<void> {
  const actor = await requireActor("read-told");
  const opened = await openToldNotice(actor, form.get("notice"));
  redirect(opened.kind === "opened" ? opened.link : "/told");
}

export async function readAllToldAction(form: FormData): Promise<void> {
  const actor = await requireActor("read-told");
  await readAllTold(actor, form.get("newest"));
  revalidatePath("/told");
}
