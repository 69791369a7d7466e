/** What may happen to a pack on the road, the strictest first. */
export const transportClasses = ["do-not-ship", "damaged", "not-damaged"] as const;
export type TransportClass = (typeof transportClasses)[number];

export const transportClassLabels: Readonly<Record<TransportClass, string>> = {
  "do-not-ship": "Do not ship: isolate, specialist collection",
  damaged: "Damaged or defective",
  "not-damaged": "Not damaged or defective",
};

/** Whether the first class is stricter than the second. */
export function isStricter(first: TransportClass, second: TransportClass): boolean {
  return transportClasses.indexOf(first) < transportClasses.indexOf(second);
}

export function readTransportClass(stored: string): TransportClass {
  const found = transportClasses.find((known) => known === stored);
  if (found === undefined) throw new RangeError(`transport class: ${stored} is unknown`);
  return found;
}
