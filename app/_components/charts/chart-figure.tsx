import type { ReactNode } from "react";

interface ChartFigureProps {
  /** For a telephone, and for what is wider. */
  readonly compact: ReactNode;
  readonly roomy: ReactNode;
  /** What the picture says, in a sentence or two. */
  readonly caption: ReactNode;
}

/** A picture drawn twice on the server, of which one is shown: its text keeps its size at any width. */
export function ChartFigure({ compact, roomy, caption }: ChartFigureProps) {
  return (
    <figure className="card p-3">
      {/* The hidden one of the two is left out of the reading order by `display: none`. */}
      <div className="sm:hidden">{compact}</div>
      <div className="hidden sm:block">{roomy}</div>
      <figcaption className="mt-2 text-sm text-soft">{caption}</figcaption>
    </figure>
  );
}
