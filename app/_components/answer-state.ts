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

/** A refusal of lib/data: it names the field it is about, or a reason that the form knows a field for. */
type Refusal = { readonly ok: false; readonly sentence: string; readonly field?: string; readonly reason?: string };

/** The answer of a function of lib/data as the form shows it; `at` says which of its reasons stands at which field. */
export function answerState(
  answer: { readonly ok: true } | Refusal,
  done: string,
  at: Readonly<Record<string, string>> = {},
): AnswerState {
  if (answer.ok) return { kind: "done", sentence: done };
  const field = answer.field ?? at[answer.reason ?? ""];
  if (field === undefined) return { kind: "refused", sentences: [answer.sentence] };
  return refusedAtFields([{ field, sentence: answer.sentence }]);
}
