import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import type { Actor } from "@/lib/access/actor";
import { recordPackingCheck } from "@/lib/data/transport/packing-check";
import { legs } from "@/lib/transport/leg";

const tickSchema = z.object({
  reference: z.string().max(40),
  leg: z.enum(legs).default("to-maker"),
  ticked: z.array(z.coerce.number().int().min(0).max(999)).max(1000),
  seenDeclarations: z.coerce.number("Reload the page: it does not know what it shows.").int().min(1),
});

/** The packing checklist as somebody ticked it, at the dealer's or at the bench. */
export async function submitTicks(actor: Actor, form: FormData): Promise<AnswerState> {
  const read = tickSchema.safeParse({ ...Object.fromEntries(form), ticked: form.getAll("ticked") });
  if (!read.success) return unreadForm(read.error);
  const { reference, ...ticks } = read.data;
  const answer = await recordPackingCheck(actor, reference, ticks);
  if (answer.ok) {
    revalidatePath(`/dealer/returns/${reference}`);
    revalidatePath(`/bench/${reference}`, "layout");
  }
  return answerState(answer, "The checklist is kept with your name.");
}
