"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import type { Actor } from "@/lib/access/actor";
import { requireActor } from "@/lib/auth/session";
import { orderOldPack, recycleOldPack, sendOldPack } from "@/lib/data/remedies/old-pack";
import type { OrderAnswer } from "@/lib/data/remedies/order-answer";
import { readOldPackChangesSince } from "@/lib/data/returns/changes-since";
import { certificateSchema, orderForOldPackSchema, seenOrdersSchema } from "@/lib/returns/old-pack.schema";

const reference = z.string().max(40);
const seen = { reference, seenOrders: seenOrdersSchema };
const orderSchema = orderForOldPackSchema.extend(seen);
const recycleSchema = certificateSchema.extend(seen);
const sendSchema = z.object(seen);

export async function orderOldPackAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("approve-return");
  const read = orderSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference: of, seenOrders, ...order } = read.data;
  const answer = await orderOldPack(actor, of, order, seenOrders);
  return settle(actor, before, form, read.data, answer, "The dealer is told.");
}

export async function sendOldPackAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("confirm-at-counter");
  const read = sendSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference: of, seenOrders } = read.data;
  const answer = await sendOldPack(actor, of, seenOrders);
  return settle(actor, before, form, read.data, answer, "Recorded: it is with the carrier.");
}

export async function recycleOldPackAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("confirm-at-counter");
  const read = recycleSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference: of, certificate, seenOrders } = read.data;
  const answer = await recycleOldPack(actor, of, certificate, seenOrders);
  return settle(actor, before, form, read.data, answer, "Recorded: it is with the recycler.");
}

interface SeenOrders {
  readonly reference: string;
  readonly seenOrders: number;
}

async function settle(
  actor: Actor,
  before: FormAnswer,
  form: FormData,
  { reference: of, seenOrders }: SeenOrders,
  answer: OrderAnswer,
  done: string,
): Promise<FormAnswer> {
  if (!answer.ok) {
    const meanwhile = answer.isStale ? await readOldPackChangesSince(actor, of, seenOrders) : null;
    return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }], meanwhile);
  }
  revalidatePath("/bench", "layout");
  revalidatePath("/dealer", "layout");
  return { kind: "done", sentence: done };
}
