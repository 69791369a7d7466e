const contactEventKinds = ["given", "added-beside", "replaced", "erased", "ended"] as const;
/** What became of a customer's contact; never the contact itself. */
export type ContactEventKind = (typeof contactEventKinds)[number];

export const contactEventWords: Readonly<Record<ContactEventKind, string>> = {
  given: "kept it",
  "added-beside": "kept another one beside it",
  replaced: "kept another one in its place",
  erased: "erased it",
  ended: "erased it, because its time was over",
};

export function readContactEvent(stored: string): ContactEventKind {
  const kind = contactEventKinds.find((known) => known === stored);
  if (kind === undefined) throw new RangeError(`contact: ${stored} is unknown`);
  return kind;
}
