/** What is said of an earlier remedy when more is decided beside it. */
export const comesBackAnswers = ["comes-back", "nothing-comes-back"] as const;
export type ComesBackAnswer = (typeof comesBackAnswers)[number];

/** What can be recorded of it later: another day, that nothing is awaited any more, or that it is back. */
export const comesBackOrders = [...comesBackAnswers, "is-back"] as const;
export type ComesBackOrder = (typeof comesBackOrders)[number];

export const comesBackWords: Readonly<Record<ComesBackOrder, string>> = {
  "comes-back": "It comes back",
  "nothing-comes-back": "Nothing comes back",
  "is-back": "It is back",
};

export function readComesBackOrder(stored: string): ComesBackOrder {
  const order = comesBackOrders.find((known) => known === stored);
  if (order === undefined) throw new RangeError(`order for what comes back: ${stored} is unknown`);
  return order;
}

/** What a decision says of it, with the answer before the words; undefined where nothing had to be said. */
export function sayComesBack({
  comesBackWhat: answer,
  comesBack: words,
}: {
  readonly comesBackWhat?: ComesBackAnswer | null | undefined;
  readonly comesBack?: string | null | undefined;
}): string | undefined {
  if (words === undefined || words === null) return undefined;
  return answer === undefined || answer === null ? words : `${comesBackWords[answer]}. ${words}`;
}
