import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import type { Actor } from "@/lib/access/actor";
import type { Act } from "@/lib/access/may";
import type { Verdict } from "@/lib/access/two-people";
import { requireActor } from "@/lib/auth/session";

const verdictSchema = z.object({ proposal: z.string().max(60), verdict: z.enum(["approved", "dropped"]) });

interface Settled {
  readonly act: Act;
  /** The pages that show the proposal. */
  readonly path: string;
  readonly settle: (
    actor: Actor,
    proposal: string,
    verdict: Verdict,
  ) => Promise<{ readonly ok: true } | { readonly ok: false; readonly sentence: string }>;
}

/** What every action that settles a proposal does with its form. */
export async function submitVerdict(
  before: FormAnswer,
  form: FormData,
  { act, path, settle }: Settled,
): Promise<FormAnswer> {
  const actor = await requireActor(act);
  const read = verdictSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await settle(actor, read.data.proposal, read.data.verdict);
  if (!answer.ok) return refusedForm(before, form, [{ field: "form", sentence: answer.sentence }]);
  revalidatePath(path, "layout");
  return { kind: "done", sentence: read.data.verdict === "approved" ? "Approved." : "Dropped." };
}
