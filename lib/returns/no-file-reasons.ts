/** Why no readings file comes with a return. A missing file is itself a symptom, so the reason is kept. */
export const noFileReasons = [
  "pack-does-not-answer",
  "nothing-to-read-it-with",
  "reading-it-failed",
  "not-safe-to-connect",
  "later",
] as const;
export type NoFileReason = (typeof noFileReasons)[number];

export const noFileReasonLabels: Readonly<Record<NoFileReason, string>> = {
  "pack-does-not-answer": "The pack does not answer",
  "nothing-to-read-it-with": "No cable or device here to read it with",
  "reading-it-failed": "Reading it was tried and failed",
  "not-safe-to-connect": "It is not safe to connect anything",
  later: "The file follows later",
};
