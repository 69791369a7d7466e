/** Statuses that several moves of the table start from. */
export const beforeDecision = ["sent-in", "in-review", "remote-help", "under-test"] as const;
/** While nobody has proposed anything that rests on the readings before: a proposal is sent back first. */
export const openToReadings = [
  ...beforeDecision,
  "more-information-needed",
  "return-approved",
  "return-expected",
  "at-the-works",
] as const;
export const undecided = [...openToReadings, "decision-proposed"] as const;
export const afterDecision = ["decided", "work-in-progress", "ready-to-hand-back", "handed-back", "closed"] as const;

/** As long as a proof of purchase may change the answer on cover that a decision or a later return rests on. */
export const openToProofs = [...undecided, "decided", "work-in-progress", "ready-to-hand-back", "handed-back"] as const;

/** A decision is proposed from these; between help and test only what needs no look at the pack: it is set apart, lost, or not wanted. */
export const proposable = [
  "in-review",
  "remote-help",
  "return-approved",
  "return-expected",
  "at-the-works",
  "under-test",
  "work-in-progress",
] as const;
