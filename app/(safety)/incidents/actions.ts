"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { addHoliday, holidaySchema } from "@/lib/data/safety/clock-holidays";
import {
  acknowledgeIncident,
  closeIncident,
  decideOnClock,
  recordDetermination,
  recordPattern,
  tickLine,
} from "@/lib/data/safety/keep-incident";
import { nameIncidentPack } from "@/lib/data/safety/name-incident-pack";
import { addKnowledge, type IncidentAnswer } from "@/lib/data/safety/raise-incident";
import { storableText } from "@/lib/returns/storable-text";
import { closingSchema, incidentDecisionSchema } from "@/lib/safety/incident-decision";
import { furtherKnowledgeSchema } from "@/lib/safety/incident-entry.schema";
import { namedPatterns } from "@/lib/safety/pattern-flags";

const asked = z.object({ reference: z.string().max(40) });
const note = storableText({
  least: 5,
  most: 2000,
  tooShort: "Write it in a sentence.",
  tooLong: "At most 2000 characters.",
});

function after(answer: IncidentAnswer, done: string): AnswerState {
  if (answer.ok) revalidatePath("/incidents", "layout");
  return answerState(answer, done);
}

export async function addKnowledgeAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("raise-safety");
  const read = z.intersection(asked, furtherKnowledgeSchema).safeParse({
    ...Object.fromEntries(form),
    flags: form.getAll("flags"),
  });
  if (!read.success) return unreadForm(read.error);
  return after(await addKnowledge(actor, read.data.reference, read.data), "It is kept as you wrote it.");
}

export async function namePackAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("keep-incident");
  const read = asked.extend({ serial: z.string().max(60) }).safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  return after(
    await nameIncidentPack(actor, read.data.reference, read.data.serial),
    "The pack is named and set apart.",
  );
}

export async function decideAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("keep-incident");
  const read = z.intersection(asked, incidentDecisionSchema).safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const { reference, ...decision } = read.data;
  return after(await decideOnClock(actor, reference, decision), "The decision is kept in your name.");
}

export async function tickAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("keep-incident");
  const read = asked.extend({ line: z.string().max(40) }).safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  return after(await tickLine(actor, read.data.reference, read.data.line), "Done, in your name.");
}

export async function acknowledgeAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("acknowledge-incident");
  const read = asked.extend({ seenEntries: z.coerce.number().int().min(1) }).safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const { reference, seenEntries } = read.data;
  const answer = await acknowledgeIncident(actor, reference, seenEntries);
  // Also where it was refused: what became known meanwhile is then on the page, and the next click has seen it.
  revalidatePath("/incidents", "layout");
  return answerState(answer, "Acknowledged in your name; the calls end.");
}

export async function determineAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("keep-incident");
  const read = asked.extend({ note }).safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  return after(
    await recordDetermination(actor, read.data.reference, read.data.note),
    "The finding is kept in your name.",
  );
}

export async function patternAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("keep-incident");
  const read = asked
    .extend({ pattern: z.enum(namedPatterns, "Choose a pattern."), note })
    .safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const { reference, pattern } = read.data;
  return after(await recordPattern(actor, reference, pattern, read.data.note), "The pattern is kept in your name.");
}

export async function closeAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("keep-incident");
  const read = z.intersection(asked, closingSchema).safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  return after(await closeIncident(actor, read.data.reference, read.data.reason), "The incident is closed.");
}

export async function addHolidayAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("keep-incident");
  const read = holidaySchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  await addHoliday(actor, read.data);
  revalidatePath("/incidents", "layout");
  return { kind: "done", sentence: "The holiday is set." };
}
