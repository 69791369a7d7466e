import Link from "next/link";
import type { ReactNode } from "react";
import type { SheetKind } from "@/lib/data/transport/printed-sheets";
import type { Leg } from "@/lib/transport/leg";
import { type Paper, paperFacts } from "./papers";
import { PrintButton } from "./print-button";

interface SheetFrameProps {
  readonly reference: string;
  readonly sheet: SheetKind;
  /** The way the sheet is for; the way to us where it is for none. */
  readonly leg?: Leg;
  readonly paper: Paper;
  readonly offered: readonly Paper[];
  /** Where the reader came from. */
  readonly back: string;
  readonly children: ReactNode;
}

/** One sheet of paper: on screen with the choice of paper above it, printed alone, black on white whatever the screen's colours. */
export function SheetFrame({ reference, sheet, leg = "to-maker", paper, offered, back, children }: SheetFrameProps) {
  const { size, marginMm } = paperFacts[paper];
  const [width = "210mm"] = size.split(" ");
  return (
    <>
      {/* The one thing a style sheet cannot know beforehand: which paper was chosen. */}
      <style>{`@page { size: ${size}; margin: ${marginMm}mm; }`}</style>
      <header className="screen-only flex flex-wrap items-center gap-x-5 gap-y-2 border-b-2 border-ink bg-raised p-4">
        <PrintButton reference={reference} sheet={sheet} leg={leg} />
        <nav aria-label="Paper" className="flex flex-wrap gap-x-4">
          {offered.map((one) => (
            <Link
              key={one}
              href={`?paper=${one}${leg === "to-maker" ? "" : `&leg=${leg}`}`}
              aria-current={one === paper ? "page" : undefined}
              className="flex min-h-11 items-center font-semibold underline underline-offset-4 aria-[current=page]:no-underline"
            >
              {paperFacts[one].label}
            </Link>
          ))}
        </nav>
        <Link href={back} className="flex min-h-11 items-center underline underline-offset-4">
          Back
        </Link>
      </header>
      <main className={`sheet sheet-${sheet} sheet-on-${paper}`} style={{ width, padding: `${marginMm}mm` }}>
        {children}
      </main>
    </>
  );
}
