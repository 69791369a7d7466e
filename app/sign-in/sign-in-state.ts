export interface SignInState {
  /** What was typed, given back so that a mistake costs no retyping; never the password. */
  readonly email: string;
  readonly problems: readonly { readonly field: "email" | "password"; readonly sentence: string }[];
  readonly attempt: number;
}

export const untouched: SignInState = { email: "", problems: [], attempt: 0 };
