/** How this house came to know. Each entry is kept as it was written; none is ever edited. */
export const knowledgeKinds = ["dealer-entry", "file-analysis", "e-mail", "telephone", "bench-note"] as const;
export type KnowledgeKind = (typeof knowledgeKinds)[number];

export const knowledgeKindLabels: Readonly<Record<KnowledgeKind, string>> = {
  "dealer-entry": "Entered by the dealer",
  "file-analysis": "Found in the readings file",
  "e-mail": "E-mail",
  telephone: "Telephone",
  "bench-note": "Note from the bench",
};

export interface Knowledge {
  readonly kind: KnowledgeKind;
  /** When this house had it, not when somebody wrote it down. */
  readonly at: Date;
}

/**
 * The first moment at which anyone of this house knew: the earliest entry. A later entry can move it earlier, never
 * later. Throws RangeError without an entry, because an incident nobody knew of cannot be recorded.
 */
export function firstKnowledge(entries: readonly Knowledge[]): Knowledge {
  const [first, ...rest] = entries;
  if (first === undefined) throw new RangeError("entries: at least one");
  return rest.reduce((earliest, entry) => (entry.at < earliest.at ? entry : earliest), first);
}
