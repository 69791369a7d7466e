"use server";

import { revalidatePath } from "next/cache";
import { type AnswerState, answerState, unreadForm } from "@/app/_components/answer-state";
import { requireActor } from "@/lib/auth/session";
import { importDistributorSales } from "@/lib/data/warranty/distributor-sales";
import { distributorImportSchema } from "@/lib/warranty/distributor-sales";

export async function importSalesAction(_before: AnswerState, form: FormData): Promise<AnswerState> {
  const actor = await requireActor("import-sales");
  const read = distributorImportSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return unreadForm(read.error);
  const answer = await importDistributorSales(actor, read.data);
  if (answer.ok) revalidatePath("/policies/distributor-sales");
  return answerState(answer, answer.ok ? `Sales of ${answer.packs} packs are brought in.` : "");
}
