/** Where something stood on the person's screen, where it stands now, and what others did between. */
export interface Meanwhile {
  readonly was: string;
  readonly now: string;
  readonly changes: readonly string[];
}

/** What comes back from a move of a return. */
export type MoveState =
  | { readonly kind: "untouched" }
  | { readonly kind: "done" }
  | {
      readonly kind: "refused";
      readonly sentence: string;
      /** Name of the question that the sentence is about; null where it is about the return as it stands. */
      readonly field: string | null;
      /** Null where nothing changed meanwhile. */
      readonly meanwhile: Meanwhile | null;
      /** What was typed, so that nothing is lost. */
      readonly typed: Readonly<Record<string, string>>;
    };

export const untouched: MoveState = { kind: "untouched" };

export function refused(
  sentence: string,
  typed: Readonly<Record<string, string>> = {},
  field: string | null = null,
): MoveState {
  return { kind: "refused", sentence, field, meanwhile: null, typed };
}
