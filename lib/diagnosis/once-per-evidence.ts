import type { Evidence } from "./evidence";

/** Makes what is asked of one log by several rules be worked out once for it. */
export function oncePerEvidence<Answer extends object | null>(work: (evidence: Evidence) => Answer) {
  const known = new WeakMap<Evidence, Answer>();
  return (evidence: Evidence): Answer => {
    const before = known.get(evidence);
    if (before !== undefined) return before;
    const found = work(evidence);
    known.set(evidence, found);
    return found;
  };
}
