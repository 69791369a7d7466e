/** What comes back from taking or deciding a return. */
export type MoveState =
  | { readonly kind: "untouched" }
  | { readonly kind: "done" }
  | {
      readonly kind: "refused";
      readonly sentence: string;
      /** What others did since the person opened the page; only then does looking again help. */
      readonly changes: readonly string[];
    };

export const untouched: MoveState = { kind: "untouched" };
