"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { moveSupplierClaim, openSupplierClaim, type SupplierAnswer } from "@/lib/data/money/supplier-claims";
import { readSupplierChangesSince } from "@/lib/data/returns/changes-since";
import { supplierClaimSchema, supplierStepSchema } from "@/lib/settlement/supplier-claim.schema";

export async function openSupplierClaimAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("open-supplier-claim");
  const read = supplierClaimSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  return settled(before, form, await openSupplierClaim(actor, read.data));
}

export async function moveSupplierClaimAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("claim-from-supplier");
  const read = supplierStepSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await moveSupplierClaim(actor, read.data);
  if (answer.ok) return settled(before, form, answer);
  const meanwhile = await readSupplierChangesSince(actor, read.data.claimId, read.data.seenVersion);
  return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }], meanwhile);
}

function settled(before: FormAnswer, form: FormData, answer: SupplierAnswer): FormAnswer {
  if (!answer.ok) return refusedForm(before, form, [{ field: answer.field, sentence: answer.sentence }]);
  revalidatePath("/money", "layout");
  return { kind: "done", sentence: "Recorded." };
}
