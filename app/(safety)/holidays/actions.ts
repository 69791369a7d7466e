"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, problemsOf, refusedForm } from "@/app/_components/form-answer";
import { submitVerdict } from "@/app/_two-people/submit-verdict";
import { requireActor } from "@/lib/auth/session";
import { proposeHolidays, settleHolidays } from "@/lib/data/safety/holiday-calendars";
import { holidayProposalSchema } from "@/lib/warranty/holiday-calendar";

export async function proposeHolidaysAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("propose-holidays");
  const read = holidayProposalSchema.safeParse(Object.fromEntries(form));
  if (!read.success) return refusedForm(before, form, problemsOf(read.error.issues));
  const answer = await proposeHolidays(actor, read.data);
  if (!answer.ok) {
    const field = answer.reason === "day-past" ? "validFrom" : "version";
    return refusedForm(before, form, [{ field, sentence: answer.sentence }]);
  }
  revalidatePath("/holidays");
  return { kind: "done", sentence: "Proposed. It counts once another person has approved it." };
}

export async function settleHolidaysAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  return submitVerdict(before, form, { act: "approve-holidays", path: "/holidays", settle: settleHolidays });
}
