/** Shared by the head and every row, so that they stand under one another at desk width. */
export const queueColumns =
  "xl:grid-cols-[minmax(0,9rem)_minmax(0,13rem)_minmax(0,12rem)_minmax(0,10.5rem)_minmax(0,1fr)_minmax(0,8rem)_minmax(0,13rem)]";

export const queueHeads = [
  "Return",
  "Risk",
  "Pack",
  "Dealer",
  "Complaint and readings",
  "Maker's guarantee",
  "Where it stands",
] as const;
