"use server";

import { redirect } from "next/navigation";
import { z } from "zod";
import { type AnswerState, unreadForm } from "@/app/_components/answer-state";
import { setInvitedPassword } from "@/lib/auth/invitations";

const sentSchema = z.object({
  token: z.string().min(20, "Open the link once more.").max(64, "Open the link once more."),
  password: z.string().max(1000, "No password here is so long."),
  again: z.string().max(1000, "No password here is so long."),
});

export async function setPasswordAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const read = sentSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const { token, password, again } = read.data;
  const answer = await setInvitedPassword(token, password, again);
  if (!answer.ok) return { kind: "refused", sentences: [answer.sentence] };
  redirect("/sign-in");
}
