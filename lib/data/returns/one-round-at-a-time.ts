import "server-only";

/** A round that is not begun while the one before is still under way; whatever fails in one is told and ends it alone. */
export function oneRoundAtATime(round: () => Promise<unknown>, tell: (error: unknown) => void): () => void {
  let isUnderWay = false;
  return () => {
    if (isUnderWay) return;
    isUnderWay = true;
    round()
      .catch(tell)
      .finally(() => {
        isUnderWay = false;
      });
  };
}
