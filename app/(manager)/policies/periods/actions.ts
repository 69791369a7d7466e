"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, refusedForm } from "@/app/_components/form-answer";
import { submitVerdict } from "@/app/_two-people/submit-verdict";
import { requireActor } from "@/lib/auth/session";
import { proposeSettings, settleSettings } from "@/lib/data/returns/settings-versions";
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

export async function settleSettingsAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  return submitVerdict(before, form, { act: "approve-policy", path: "/policies/periods", settle: settleSettings });
}
