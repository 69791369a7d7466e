"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { raiseIncident } from "@/lib/data/safety/raise-incident";
import { furtherKnowledgeSchema } from "@/lib/safety/incident-entry.schema";

export async function raiseIncidentAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("raise-safety");
  const read = z
    .intersection(z.object({ reference: z.string().max(40) }), furtherKnowledgeSchema)
    .safeParse({ ...Object.fromEntries(form), flags: form.getAll("flags") });
  if (!read.success) return unreadForm(read.error);
  const answer = await raiseIncident(actor, read.data.reference, read.data);
  if (answer.ok) revalidatePath("/", "layout");
  return answerState(answer, "The incident is raised and the pack is held.");
}
