export interface SeriesStyle {
  readonly colour: string;
  /** SVG dash pattern in units of the drawing; "none" is a full line. */
  readonly dash: string;
}

const COLOURS = 8;

/** Patterns that stay apart in black and white at line widths of 1 to 3: rhythm, not only length, differs. */
const DASHES = ["none", "7 4", "2 3", "10 3 2 3", "5 2 1 2 1 2", "14 4", "1 4", "8 2 2 2 2 2"] as const;

/**
 * Colour and dash of the series at a position in its list. No two of the first 64 share both: after each eight, the
 * dashes move on by one against the colours.
 */
export function seriesStyle(position: number): SeriesStyle {
  const round = Math.floor(position / COLOURS);
  const dash = DASHES[(position + round) % DASHES.length] ?? "none";
  return { colour: `var(--series-${(position % COLOURS) + 1})`, dash };
}
