"use server";

import { revalidatePath } from "next/cache";
import { type FormAnswer, refusedForm } from "@/app/_components/form-answer";
import { requireActor } from "@/lib/auth/session";
import { keepForecast } from "@/lib/data/reliability/kept-forecasts";

export async function keepForecastAction(before: FormAnswer, form: FormData): Promise<FormAnswer> {
  const actor = await requireActor("keep-forecast");
  const answer = await keepForecast(actor);
  if (!answer.ok) return refusedForm(before, form, [{ field: "form", sentence: answer.sentence }]);
  revalidatePath("/reliability/kept");
  return { kind: "done", sentence: "Kept." };
}
