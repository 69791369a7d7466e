/** Statuses that several moves of the table start from. */
export const beforeDecision = ["sent-in", "in-review", "remote-help", "under-test"] as const;
export const undecided = [
  ...beforeDecision,
  "more-information-needed",
  "return-approved",
  "return-expected",
  "at-the-works",
  "decision-proposed",
] as const;
/** While nobody has proposed anything that rests on the readings before: a proposal is sent back first. */
export const openToReadings = [
  ...beforeDecision,
  "more-information-needed",
  "return-approved",
  "return-expected",
  "at-the-works",
] as const;
export const afterDecision = ["decided", "work-in-progress", "ready-to-hand-back", "handed-back", "closed"] as const;
