"use server";

import { revalidatePath } from "next/cache";
import { redirect } from "next/navigation";
import { z } from "zod";
import { type AnswerState, refusedAtFields, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { lodgeOnBehalf } from "@/lib/data/returns/lodge-return";
import { startDraftFor } from "@/lib/data/returns/return-drafts";
import { draftAnswersSchema } from "@/lib/returns/draft-answers.schema";
import { lodgeReturnSchema } from "@/lib/returns/lodge-return.schema";

const whomSchema = z.object({
  dealerCode: z.string().min(1, "Choose the dealer.").max(20),
  how: z.enum(["send", "keep"], "Choose what happens with it."),
});

const whyNotBegun = {
  "no-dealer": "There is no such dealer.",
  "danger-told":
    'A danger was told: lodge it now, because the maker knows of it from this call on. Where the serial is not known, tell it under "Tell a danger".',
} as const;

/** Lodges what a dealer told by telephone, or begins it for the dealer to finish. A readings file comes from the dealer's own page. */
export async function lodgeOnBehalfAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("lodge-on-behalf");
  const { dangerSigns: _signs, conditions: _conditions, ...single } = Object.fromEntries(form);
  const answers = { ...single, dangerSigns: form.getAll("dangerSigns"), conditions: form.getAll("conditions") };
  const whom = whomSchema.safeParse(single);
  if (!whom.success) return unreadForm(whom.error);
  if (whom.data.how === "keep") {
    // The first question of the form is the one that may not be skipped, also where the dealer finishes it.
    if (answers.dangerSigns.length === 0) return { kind: "refused", sentences: ["Ask for danger signs first."] };
    const begun = await startDraftFor(
      actor,
      whom.data.dealerCode,
      draftAnswersSchema(() => crypto.randomUUID()).parse(answers),
    );
    if (begun !== "kept") return { kind: "refused", sentences: [whyNotBegun[begun]] };
    return { kind: "done", sentence: "The dealer finds it under “Not sent yet” and sends it. Nothing is lodged yet." };
  }
  const read = lodgeReturnSchema.safeParse({ ...answers, readingFileId: "" });
  if (!read.success) return unreadForm(read.error);
  const answer = await lodgeOnBehalf(actor, whom.data.dealerCode, read.data);
  if (!answer.ok) return refusedAtFields(answer.problems);
  revalidatePath("/bench");
  redirect(`/bench/${encodeURIComponent(answer.reference)}`);
}
