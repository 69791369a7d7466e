/** What may happen to a pack on the road, the strictest first. */
export const transportClasses = ["do-not-ship", "damaged", "not-damaged"] as const;
export type TransportClass = (typeof transportClasses)[number];

export const transportClassLabels: Readonly<Record<TransportClass, string>> = {
  "do-not-ship": "Do not ship: isolate, specialist collection",
  damaged: "Damaged or defective",
  "not-damaged": "Not damaged or defective",
};

/** One sentence under the label. */
export const transportClassMeanings: Readonly<Record<TransportClass, string>> = {
  "do-not-ship":
    "It may react dangerously on the way. Nothing is printed for it here: it stays isolated until a specialist collects it.",
  damaged: "It travels only as a damaged or defective battery, in the packing and with the marks named below.",
  "not-damaged":
    "It was diagnosed and met no criterion of damage, so the ordinary rules for lithium-ion batteries hold.",
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
