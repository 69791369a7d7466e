export interface Label {
  readonly text: string;
  /** Left end and middle height of the text. */
  readonly x: number;
  readonly y: number;
}

/**
 * Moves labels down until none lies over another, in the order of their height. Widths are estimated from the number
 * of letters, because text is not measured on a server; the estimate is generous.
 */
export function placeLabels<L extends Label>(labels: readonly L[], fontSize: number): L[] {
  const letterWidth = fontSize * 0.65;
  const lineHeight = fontSize * 1.1;
  const placed: L[] = [];
  for (const label of [...labels].sort((a, b) => a.y - b.y)) {
    let y = label.y;
    for (const other of [...placed].sort((a, b) => a.y - b.y)) {
      const besides =
        other.x + other.text.length * letterWidth < label.x || label.x + label.text.length * letterWidth < other.x;
      if (!besides && Math.abs(other.y - y) < lineHeight) y = other.y + lineHeight;
    }
    placed.push({ ...label, y });
  }
  return placed;
}
