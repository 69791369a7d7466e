import { useFormContext } from "react-hook-form";
import type { LodgeReturn, LodgeReturnInput } from "@/lib/returns/lodge-return.schema";
import { type AnswerName, questions, stepAsking } from "./steps";

/** The form as a question needs it: the wiring of one answer, with its error and its question. */
export function useAnswerForm() {
  const form = useFormContext<LodgeReturnInput, unknown, LodgeReturn>();
  const { errors } = form.formState;
  return {
    ...form,
    /** A changed answer is no longer the one that was wrong; it is judged again when the person goes on. */
    register: (answer: AnswerName) => form.register(answer, { onChange: () => form.clearErrors(answer) }),
    errorOf: (answer: AnswerName): string | undefined => errors[answer]?.message,
    questionOf: (answer: AnswerName): string => questions[stepAsking(answer)],
  };
}
