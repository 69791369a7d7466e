const MARK = "unsent return of ";

/** What the house calls a danger told in a return that is not sent and names no pack we know: by its dealer, whom it can ring. */
export function unsentReference(dealerCode: string): string {
  return `${MARK}${dealerCode}`;
}

export function isUnsentReference(reference: string): boolean {
  return reference.startsWith(MARK);
}
