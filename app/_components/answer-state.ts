import type { z } from "zod";

/** What came of a sent form, in the words the person reads. */
export type AnswerState =
  | { readonly kind: "untouched" }
  | { readonly kind: "done"; readonly sentence: string }
  | {
      readonly kind: "refused";
      readonly sentences: readonly string[];
      /** The same sentences at the names of the fields they are about, where a form shows them there. */
      readonly fields?: Readonly<Record<string, string>>;
    };

export const untouchedAnswer: AnswerState = { kind: "untouched" };

/** Everything that keeps a form from being read, in the sentences of its schema. */
export function unreadForm(error: z.ZodError): AnswerState {
  return refusedAtFields(
    error.issues.map(({ path, message }) => ({ field: String(path[0] ?? ""), sentence: message })),
  );
}

/** Each sentence at its field, and all of them together; the first of several at one field stands there. */
export function refusedAtFields(
  problems: readonly { readonly field: string; readonly sentence: string }[],
): AnswerState {
  const fields = Object.fromEntries(problems.toReversed().map(({ field, sentence }) => [field, sentence]));
  return { kind: "refused", sentences: [...new Set(problems.map(({ sentence }) => sentence))], fields };
}

/** The answer of a function of lib/data as the form shows it. */
export function answerState(
  answer: { readonly ok: true } | { readonly ok: false; readonly sentence: string },
  done: string,
): AnswerState {
  return answer.ok ? { kind: "done", sentence: done } : { kind: "refused", sentences: [answer.sentence] };
}
