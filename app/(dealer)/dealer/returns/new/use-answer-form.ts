import { useFormContext } from "react-hook-form";
import type { LodgeReturn, LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { type AnswerName, questions, stepAsking } from "./steps";

/** The form as a question needs it: the wiring of one answer, with its error and its question. */
export function useAnswerForm() {
  const form = useFormContext<LodgeReturnInput, unknown, LodgeReturn>();
  const { errors } = form.formState;
  return {
    ...form,
    errorOf: (answer: AnswerName): string | undefined => errors[answer]?.message,
    questionOf: (answer: AnswerName): string => questions[stepAsking(answer)],
  };
}
