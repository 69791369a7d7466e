import type { ReactNode } from "react";

interface ChartPictureProps {
  /** Unique on the page: title and description are found by it. */
  readonly id: string;
  readonly title: string;
  /** For those who do not see it. */
  readonly description: string;
  readonly width: number;
  readonly height: number;
  readonly fontSize: number;
  readonly children: ReactNode;
  /** A picture that can be clicked is a group of its parts, not one image. */
  readonly holdsLinks?: boolean;
}

/** The canvas of a drawn chart, with a name and a description. It grows with its place, but not beyond what reads well. */
export function ChartPicture(props: ChartPictureProps) {
  const { id, title, description, width, height, fontSize, children, holdsLinks = false } = props;
  return (
    <svg
      role={holdsLinks ? "group" : "img"}
      aria-labelledby={`${id}-title ${id}-description`}
      viewBox={`0 0 ${width} ${height}`}
      width="100%"
      style={{ display: "block", maxWidth: width * 1.15 }}
      fontSize={fontSize}
      fill="var(--ink)"
    >
      <title id={`${id}-title`}>{title}</title>
      <desc id={`${id}-description`}>{description}</desc>
      {children}
    </svg>
  );
}
