"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import { submitTicks } from "@/app/_packing/submit-ticks";
import { requireActor } from "@/lib/auth/session";
import { declareTransportClass, reviveSendingLeave } from "@/lib/data/transport/declare-transport";
import { proposeTransportClass } from "@/lib/data/transport/propose-class";
import { criteria } from "@/lib/transport/criteria";
import { classDeclarationSchema } from "@/lib/transport/declare-class";
import { legs } from "@/lib/transport/leg";

const reference = z.string().max(40);
const leg = z.enum(legs).default("to-maker");

/** Another class, or the name of the supplier, would be taken; a criterion that keeps "not damaged" shut does so for that class. */
const atClass = {
  "rules-not-confirmed": "transportClass",
  "not-diagnosed": "transportClass",
  "criterion-open": "transportClass",
  "acute-hazard-found": "transportClass",
  "critical-proposed": "transportClass",
  frozen: "transportClass",
  "consignee-missing": "consignee",
};

function readDeclaration(form: FormData) {
  const fields = Object.fromEntries(form);
  return classDeclarationSchema.extend({ reference }).safeParse({
    ...fields,
    inEquipment: fields.inEquipment === "yes",
    criteria: Object.fromEntries(criteria.map((criterion) => [criterion, fields[`criterion-${criterion}`]])),
  });
}

export async function proposeClassAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("propose-transport-class");
  const read = readDeclaration(form);
  if (!read.success) return unreadForm(read.error);
  const { reference: asked, ...proposed } = read.data;
  const answer = await proposeTransportClass(actor, asked, proposed);
  if (answer.ok) revalidatePath("/bench", "layout");
  return answerState(answer, "Proposed in your name. It counts once another person declares it.", atClass);
}

export async function declareClassAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("set-transport-class");
  const read = readDeclaration(form);
  if (!read.success) return unreadForm(read.error);
  const { reference: asked, ...declared } = read.data;
  const answer = await declareTransportClass(actor, asked, declared);
  if (answer.ok) revalidatePath("/bench", "layout");
  return answerState(answer, "The class is declared in your name.", atClass);
}

export async function reviveLeaveAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("approve-return", "set-transport-class");
  const read = z.object({ reference, leg }).safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await reviveSendingLeave(actor, read.data.reference, new Date(), read.data.leg);
  if (answer.ok) revalidatePath("/bench", "layout");
  return answerState(answer, "Leave to send is given anew.");
}

export async function tickOutgoingAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  return submitTicks(await requireActor("work-on-pack"), form);
}
