import "server-only";

/** What came of an order about a pack or about what the customer gives back: done, or what is wrong, at its field. */
export type OrderAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly isStale: boolean; readonly field: string; readonly sentence: string };

export function refuseOrder(field: string, sentence: string): OrderAnswer {
  return { ok: false, isStale: false, field, sentence };
}

/** Somebody said something of it while the page was open. */
export function refuseStaleOrder(sentence: string): OrderAnswer {
  return { ok: false, isStale: true, field: "order", sentence };
}
