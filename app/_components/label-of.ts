/** The label of a stored answer; one written by an older release, which no list knows any more, is shown as it is. */
export function labelOf(labels: Readonly<Record<string, string>>, stored: string): string {
  return Object.hasOwn(labels, stored) ? (labels[stored] ?? stored) : stored.replaceAll("-", " ");
}
