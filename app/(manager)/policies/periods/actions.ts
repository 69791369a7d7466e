"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { proposeSettings, settleSettings } from "@/lib/data/settings-versions";
import { readSettingsProposal } from "@/lib/returns/settings-proposal.schema";

export async function proposeSettingsAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-policy");
  const read = readSettingsProposal(Object.fromEntries(form));
  if (read.kind === "problems") return refusedForm(before, form, read.problems);
  const answer = await proposeSettings(actor, read.proposal);
  if (!answer.ok) {
    const field = answer.reason === "day-past" ? "validFrom" : "version";
    return refusedForm(before, form, [{ field, sentence: answer.sentence }]);
  }
  revalidatePath("/policies/periods");
  return { kind: "done", sentence: "Proposed. It counts once another manager has approved it." };
}

const settleSchema = z.object({ version: z.string().max(40), verdict: z.enum(["approved", "dropped"]) });

export async function settleSettingsAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("approve-policy");
  const read = settleSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await settleSettings(actor, read.data.version, read.data.verdict);
  if (!answer.ok) return refusedForm(before, form, [{ field: "form", sentence: answer.sentence }]);
  revalidatePath("/policies/periods");
  return { kind: "done", sentence: read.data.verdict === "approved" ? "Approved." : "Dropped." };
}
