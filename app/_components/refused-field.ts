import type { MoveState } from "./move-state";

/** A refusal that is about one question of the form on the screen; null where it is about none of them. */
export function refusedField(
  state: MoveState,
  fields: readonly string[],
): { readonly name: string; readonly sentence: string } | null {
  if (state.kind !== "refused" || state.field === null || !fields.includes(state.field)) return null;
  return { name: state.field, sentence: state.sentence };
}
