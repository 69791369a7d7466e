import type { CalendarDate } from "./calendar";
import type { StartFacts } from "./cover-facts.schema";

/** The proof that counts of one return: read on it, or chosen on it by a named person against other days. */
export interface ReadProof {
  readonly soldOn: CalendarDate;
  readonly readAt: Date;
  /** Days on other proofs that were not taken; empty where a proof was read and nothing chosen. */
  readonly against: readonly CalendarDate[];
}

/** What the proofs of a chain say of the start. A day that is read or chosen again after it was set aside stands anew. */
export function provenBy(
  proofs: readonly ReadProof[],
): Required<Pick<StartFacts, "provenOn">> & Pick<StartFacts, "setAsideOn"> {
  const setAside = new Set<CalendarDate>();
  for (const { soldOn, against } of proofs.toSorted((a, b) => a.readAt.getTime() - b.readAt.getTime())) {
    for (const day of against) setAside.add(day);
    setAside.delete(soldOn);
  }
  const provenOn = proofs.map(({ soldOn }) => soldOn);
  return setAside.size === 0 ? { provenOn } : { provenOn, setAsideOn: [...setAside] };
}

/** Every day on a proof of the chain that nobody set aside, each once, the recorded sale's first. */
export function provenDays({ deliveryReceiptOn, provenOn = [], setAsideOn = [] }: StartFacts): CalendarDate[] {
  const all = deliveryReceiptOn === undefined ? provenOn : [deliveryReceiptOn, ...provenOn];
  return [...new Set(all)].filter((day) => !setAsideOn.includes(day));
}
