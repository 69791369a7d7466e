"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { endFoundStay } from "@/lib/data/receiving/end-found-stay";
import {
  placeInQuarantine,
  type ReceivingAnswer,
  recordArrival,
  recordWatch,
  releaseFromQuarantine,
} from "@/lib/data/receiving/receiving";
import { restartWatch } from "@/lib/data/receiving/restart-watch";
import { settleIdentity } from "@/lib/data/receiving/settle-identity";
import { arrivalSchema } from "@/lib/receiving/arrival.schema";
import { settlementSchema } from "@/lib/receiving/settle-identity.schema";
import { releaseFormSchema, watchFormSchema, watchRestartSchema } from "@/lib/receiving/watch-form.schema";
import { storableText } from "@/lib/returns/storable-text";

const reference = z.string().max(40);
const settleSchema = z.intersection(z.object({ reference }), settlementSchema);
const placeSchema = z.object({ reference, place: z.string("Choose a place.").min(1, "Choose a place.").max(20) });
const watchSchema = z.intersection(z.object({ reference }), watchFormSchema);
const releaseSchema = z.intersection(z.object({ reference }), releaseFormSchema);
const foundSchema = z.object({
  reference,
  stayId: z.uuid(),
  because: storableText({
    least: 10,
    most: 500,
    tooShort: "Write who took it and where it went, in a sentence.",
    tooLong: "At most 500 characters.",
  }),
});
const restartSchema = z.intersection(z.object({ reference }), watchRestartSchema);

function after(answer: ReceivingAnswer, done: string, at: Readonly<Record<string, string>> = {}): AnswerState {
  if (answer.ok) revalidatePath("/", "layout");
  return answerState(answer, done, at);
}

/** Another place would take it. */
const atPlace = {
  "lies-already": "place",
  "no-such-place": "place",
  "too-many-packs": "place",
  "too-much-energy": "place",
};

export async function recordArrivalAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("receive-pack");
  const read = z.intersection(z.object({ reference }), arrivalSchema).safeParse({
    ...Object.fromEntries(form),
    signs: form.getAll("signs").filter((sign) => sign !== "none"),
    noSigns: form.getAll("signs").includes("none"),
  });
  if (!read.success) return unreadForm(read.error);
  const answer = await recordArrival(actor, read.data.reference, read.data);
  const identity = answer.ok ? answer.identity : undefined;
  return after(
    answer,
    identity === undefined || identity.kind === "match" ? "The pack is recorded." : identity.sentence,
  );
}

export async function settleIdentityAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("receive-pack");
  const read = settleSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const done =
    read.data.outcome === "same-pack"
      ? "It is settled."
      : "It is settled: this return waits for its pack again. Record the one that came under its own return.";
  return after(await settleIdentity(actor, read.data.reference, read.data), done);
}

export async function placeAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("receive-pack");
  const read = placeSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  return after(await placeInQuarantine(actor, read.data.reference, read.data.place), "It lies in quarantine.", atPlace);
}

export async function endFoundStayAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("receive-pack");
  const read = foundSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  return after(await endFoundStay(actor, read.data.reference, read.data), "Its stay is ended.");
}

export async function recordWatchAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("receive-pack");
  const read = watchSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const { reference: asked, ...values } = read.data;
  return after(await recordWatch(actor, asked, { ...values, at: new Date() }), "The measurement is kept.");
}

export async function restartWatchAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("read-build-record");
  const read = restartSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  return after(await restartWatch(actor, read.data.reference, read.data.why), "The watch begins anew now.");
}

export async function releaseAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("receive-pack");
  const read = releaseSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await releaseFromQuarantine(actor, read.data.reference, read.data);
  return after(answer, "It may go to the bench.", { "faces-missing": "noFacesBecause" });
}
