import type { Meanwhile } from "./move-state";

/** What the server says to a sent form: nothing yet, done, or what needs another look, with what was typed. */
export type FormAnswer =
  | { readonly kind: "untouched" }
  | { readonly kind: "done"; readonly sentence: string }
  | {
      readonly kind: "refused";
      readonly problems: readonly { readonly field: string; readonly sentence: string }[];
      readonly typed: Readonly<Record<string, string>>;
      readonly attempt: number;
      /** What others did while the form was open; null where that is not why. */
      readonly meanwhile: Meanwhile | null;
    };

export const untouchedForm: FormAnswer = { kind: "untouched" };

/** Refuses with the sentences at their fields, and gives back what was typed so that nothing is typed twice. */
export function refusedForm(
  before: FormAnswer,
  form: FormData,
  problems: readonly { readonly field: string; readonly sentence: string }[],
  meanwhile: Meanwhile | null = null,
): FormAnswer {
  const typed = Object.fromEntries(
    [...form].flatMap(([name, value]) => (typeof value === "string" ? [[name, value]] : [])),
  );
  return { kind: "refused", problems, typed, attempt: before.kind === "refused" ? before.attempt + 1 : 1, meanwhile };
}

/** The problems of a schema at the names of its fields. */
export function problemsOf(issues: readonly { readonly path: readonly PropertyKey[]; readonly message: string }[]) {
  return issues.map(({ path, message }) => ({ field: String(path[0] ?? "form"), sentence: message }));
}
