import type { z } from "zod";

/** What came of a sent form, in the words the person reads. */
export type AnswerState =
  | { readonly kind: "untouched" }
  | { readonly kind: "done"; readonly sentence: string }
  | { readonly kind: "refused"; readonly sentences: readonly string[] };

export const untouchedAnswer: AnswerState = { kind: "untouched" };

/** Everything that keeps a form from being read, in the sentences of its schema. */
export function unreadForm(error: z.ZodError): AnswerState {
  return { kind: "refused", sentences: [...new Set(error.issues.map(({ message }) => message))] };
}

/** The answer of a function of lib/data as the form shows it. */
export function answerState(
  answer: { readonly ok: true } | { readonly ok: false; readonly sentence: string },
  done: string,
): AnswerState {
  return answer.ok ? { kind: "done", sentence: done } : { kind: "refused", sentences: [answer.sentence] };
}
