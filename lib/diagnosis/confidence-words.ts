/** From which confidence each word is used, highest first. The steps are an engineering default, no authority. */
const steps = [
  { from: 0.85, words: "Very likely" },
  { from: 0.65, words: "Likely" },
  { from: 0.4, words: "Possible" },
  { from: 0.15, words: "Less likely" },
  { from: 0, words: "Unlikely" },
] as const;

/** A confidence from 0 to 1 in words and as a number: "Likely, 72 in 100". RangeError outside that range. */
export function sayConfidence(confidence: number): string {
  if (!(confidence >= 0 && confidence <= 1)) throw new RangeError(`confidence: ${confidence} is not within 0 to 1`);
  const words = steps.find(({ from }) => confidence >= from)?.words ?? "Unlikely";
  return `${words}, ${Math.round(confidence * 100)} in 100`;
}

/**
 * What is said of a stored finding's confidence. "No fault found" gets no number: it covers what the readings could have
 * shown, and is no chance that the pack is sound.
 */
export function sayConfidenceOf({
  fault,
  confidence,
}: {
  readonly fault: string;
  readonly confidence: number;
}): string {
  return fault === "no-fault-found"
    ? "Covers only what these readings could have shown; no chance that the pack is sound can be stated"
    : sayConfidence(confidence);
}
