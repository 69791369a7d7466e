"use server";

import { revalidatePath } from "next/cache";
import { z } from "zod";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { faultCodingSchema } from "@/lib/bench-tests/fault-coding.schema";
import { noFaultEntrySchema, noFaultReasonSchema } from "@/lib/bench-tests/no-fault-entry.schema";
import { resultEntrySchema, waiverSchema } from "@/lib/bench-tests/result-entry.schema";
import { verdictWords } from "@/lib/bench-tests/verdict";
import { recordTestResult, waiveTest } from "@/lib/data/bench-tests/bench-tests";
import { codeFault } from "@/lib/data/bench-tests/fault-codings";
import { recordNoFaultStep, startNoFault, waiveNoFault } from "@/lib/data/bench-tests/no-fault";
import { readCodingChangesSince } from "@/lib/data/returns/changes-since";

const codingFormSchema = z.object({
  reference: z.string().max(40),
  seenVersion: z.coerce.number().int().min(0),
  coding: faultCodingSchema,
});

type Answer = { readonly ok: true } | { readonly ok: false; readonly field?: string; readonly sentence: string };

function after(before: FormAnswer, form: FormData, answer: Answer, done: string): FormAnswer {
  if (!answer.ok) {
    return refusedForm(before, form, [{ field: answer.field ?? "form", sentence: answer.sentence }]);
  }
  revalidatePath("/bench", "layout");
  return { kind: "done", sentence: done };
}

export async function recordResultAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("test-pack");
  const { seen, ...typed } = Object.fromEntries(form);
  const read = resultEntrySchema.safeParse({ ...typed, seen: seen === "" ? null : seen });
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await recordTestResult(actor, read.data);
  const verdict = answer.ok && answer.verdict !== undefined ? `${verdictWords[answer.verdict]}. ` : "";
  return after(before, form, answer, `${verdict}The result is kept.`);
}

export async function waiveTestAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("test-pack");
  const read = waiverSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return after(before, form, await waiveTest(actor, read.data), "It is left out, with your reason.");
}

export async function codeFaultAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("test-pack");
  const { reference, seenVersion, ...coding } = Object.fromEntries(form);
  const read = codingFormSchema.safeParse({ reference, seenVersion, coding });
  if (!read.success) {
    const inForm = read.error.issues.map(({ path, message }) => ({
      path: path.slice(path[0] === "coding" ? 1 : 0),
      message,
    }));
    return refusedForm(before, form, problemsOf(inForm));
  }
  const answer = await codeFault(actor, read.data.reference, read.data.coding, read.data.seenVersion);
  if (!answer.ok && answer.reason === "someone-changed-this") {
    const meanwhile = await readCodingChangesSince(actor, read.data.reference, read.data.seenVersion);
    return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }], meanwhile);
  }
  return after(before, form, answer, "The fault is coded.");
}

export async function startNoFaultAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("test-pack");
  const read = noFaultReasonSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return after(before, form, await startNoFault(actor, read.data.reference, read.data.why), "The protocol is started.");
}

export async function recordNoFaultStepAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("test-pack");
  const read = noFaultEntrySchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const { reference, ...entry } = read.data;
  return after(before, form, await recordNoFaultStep(actor, reference, entry), "The step is kept.");
}

export async function waiveNoFaultAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("waive-no-fault-protocol");
  const read = noFaultReasonSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return after(
    before,
    form,
    await waiveNoFault(actor, read.data.reference, read.data.why),
    "The protocol is left out.",
  );
}
