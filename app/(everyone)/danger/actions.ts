"use server";

import { revalidatePath } from "next/cache";
import { type AnswerState, refusedAtFields, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { readToldZone } from "@/lib/auth/told-zone";
import { tellDanger } from "@/lib/data/safety/tell-danger";
import { askWhetherTicked } from "@/lib/safety/signs-in-words";
import { toldDangerSchema } from "@/lib/safety/told-danger.schema";

export async function tellDangerAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("raise-safety");
  const read = toldDangerSchema.safeParse({ ...Object.fromEntries(form), flags: form.getAll("flags") });
  if (!read.success) return unreadForm(read.error);
  const answer = await tellDanger(actor, read.data, new Date(), await readToldZone());
  if (!answer.ok) return refusedAtFields([answer]);
  revalidatePath("/", "layout");
  const { isUnnamed, note, flags } = read.data;
  // Once more after it is told, because without script nobody was asked while typing.
  const asked = askWhetherTicked(note, flags, "incident");
  return {
    kind: "done",
    sentence: `It is told. The safety officer and the service lead are called, ${isUnnamed ? "the pack is to be named" : "the pack is set apart"}, and incident ${answer.incident} keeps your words.${asked === null ? "" : ` ${asked} Tell it once more then, with the sign.`}`,
  };
}
