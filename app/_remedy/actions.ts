"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import type { MoveState } from "@/app/_components/move-state";
import { submitTrack } from "@/app/_moves/submit-track";
import { requireActor } from "@/lib/auth/session";
import { giveUnitUp, keepUnitFor } from "@/lib/data/remedies/keep-unit";
import { lendPack, takeLoanBack } from "@/lib/data/remedies/lend-pack";
import { recordWhereUnitIs } from "@/lib/data/remedies/unit-place";
import { holdPackAgain, letPackGo } from "@/lib/data/safety/let-pack-go";
import { recordLegalNotice } from "@/lib/data/warranty/legal-notices";
import { noticeLanguages } from "@/lib/notices/notice-kinds";
import { loanBackSchema } from "@/lib/packs/loan-back";
import { unitBackSchema } from "@/lib/receiving/unit-back";
import { watchFormSchema } from "@/lib/receiving/watch-form.schema";
import { custodyPlaces } from "@/lib/returns/custody-track";
import { storableText } from "@/lib/returns/storable-text";
import { consumerChoices, legalPromptKinds } from "@/lib/warranty/legal-prompts";

const reference = z.string().max(40);

export async function remedyAction(_before: MoveState, form: FormData): Promise<MoveState> {
  return submitTrack(await requireActor("work-on-pack", "confirm-at-counter", "check-money"), form);
}

const shownSchema = z.object({
  reference,
  kind: z.enum(legalPromptKinds),
  choice: z.enum(consumerChoices, "Choose what the customer said; leaving it open is an answer too."),
  language: z.enum(noticeLanguages, "Choose the language the customer read it in."),
});

export async function noticeShownAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("answer-question");
  const read = shownSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { kind, choice, language } = read.data;
  const isKept = await recordLegalNotice(actor, read.data.reference, { kind, choice, language });
  return settle(before, form, "choice", isKept ? null : "This notice is not asked for on this return.", "Recorded.");
}

const keepSchema = z.object({ reference, serial: z.string().max(60) });

export async function keepUnitAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("work-on-pack");
  const read = keepSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await keepUnitFor(actor, read.data.reference, read.data.serial);
  return settle(before, form, "serial", answer.ok ? null : answer.sentence, "The pack is kept for this return.");
}

const giveUpSchema = z.object({ reference, because: z.string().max(300) });

export async function giveUnitUpAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("work-on-pack");
  const read = giveUpSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await giveUnitUp(actor, read.data.reference, read.data.because);
  return settle(before, form, "because", answer.ok ? null : answer.sentence, "The pack is free again.");
}

const unitPlaceSchema = z.object({
  reference,
  to: z.enum(custodyPlaces, "Choose where it is."),
  scanned: z.string().max(200),
  unit: z.string().max(60).default(""),
  reason: storableText({
    least: 3,
    most: 1000,
    tooShort: "Write how you know, in a few words.",
    tooLong: "This is longer than 1000 characters.",
  }),
  seenVersion: z.coerce.number().int().min(0),
});

export async function unitPlaceAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("receive-pack", "confirm-at-counter");
  const read = unitPlaceSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  // What comes back is looked at and measured; what goes back on the shelf is measured again.
  const isBack = read.data.to === "quarantine";
  const back = isBack ? unitBackSchema.safeParse(Object.fromEntries(form)) : null;
  const measured = isBack || read.data.to === "store" ? watchFormSchema.safeParse(Object.fromEntries(form)) : null;
  const problems = [back, measured].flatMap((part) => (part?.success === false ? problemsOf(part.error.issues) : []));
  if (problems.length > 0) return refusedForm(before, form, problems);
  const answer = await recordWhereUnitIs(actor, read.data.reference, {
    ...read.data,
    ...(back?.data === undefined ? {} : { back: back.data }),
    ...(measured?.data === undefined ? {} : { measured: measured.data }),
  });
  return settle(
    before,
    form,
    answer.ok ? "to" : answer.field,
    answer.ok ? null : answer.sentence,
    "Its place is recorded.",
  );
}

export async function lendAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("work-on-pack", "confirm-at-counter");
  const read = keepSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await lendPack(actor, read.data.reference, read.data.serial);
  return settle(before, form, "serial", answer.ok ? null : answer.sentence, "The loan is recorded.");
}

const backSchema = loanBackSchema.extend({ reference });

export async function loanBackAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("work-on-pack", "confirm-at-counter");
  const read = backSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await takeLoanBack(actor, read.data.reference, read.data);
  const done =
    read.data.look === "as-lent"
      ? "It is back."
      : "It is back and set apart. The safety officer and the service desk are told; nobody uses, charges or lends it.";
  return settle(before, form, "condition", answer.ok ? null : answer.sentence, done);
}

const letGoSchema = z.object({
  reference,
  why: z.string().max(2000, "This is longer than 2000 characters."),
  /** The keys of the stops that were shown, one a line. */
  seenStops: z
    .string()
    .max(20_000)
    .transform((text) => text.split("\n")),
});

export async function letPackGoAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("stop-ship");
  const read = letGoSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference: of, ...request } = read.data;
  const answer = await letPackGo(actor, of, request);
  return settle(before, form, "why", answer.ok ? null : answer.sentence, "It may go. This is kept in your name.");
}

const holdAgainSchema = letGoSchema.pick({ reference: true, why: true });

export async function holdPackAgainAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("stop-ship");
  const read = holdAgainSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await holdPackAgain(actor, read.data.reference, read.data.why);
  return settle(before, form, "why", answer.ok ? null : answer.sentence, "It is held back again, in your name.");
}

function settle(before: FormAnswer, form: FormData, field: string, sentence: string | null, done: string): FormAnswer {
  if (sentence !== null) return refusedForm(before, form, [{ field, sentence }]);
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done", sentence: done };
}
