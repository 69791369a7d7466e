import { type Remedy, remedies } from "./finding";

/** A suggested remedy as stored. Throws RangeError for one that is unknown. */
export function readRemedy(stored: string | null): Remedy | null {
  if (stored === null) return null;
  const remedy = remedies.find((known) => known === stored);
  if (remedy === undefined) throw new RangeError(`remedy: ${stored} is unknown`);
  return remedy;
}
