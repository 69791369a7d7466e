import { heightOf, type PackageMark } from "@/lib/transport/package-mark";
import { type SourceMark, sayMark } from "@/lib/transport/sourced-text";

interface SheetMarkProps {
  readonly mark: PackageMark;
  /** Where the paper has no room for sources it says of each part whether somebody compared it. */
  readonly isSmall: boolean;
}

/** A mark of the package, and how high its letters are, each with where it comes from. What stands in brackets is no part of it. */
export function SheetMark({ mark, isSmall }: SheetMarkProps) {
  const height = heightOf(mark);
  const own = sayOnPaper(mark.mark, isSmall);
  const ofHeight = height === null ? null : sayOnPaper(height.mark, isSmall);
  return (
    <>
      <strong>{mark.text}</strong>
      {own === null || own === ofHeight ? null : <Source says={own} />}
      {mark.letterHeightMm === null ? null : ` (letters at least ${mark.letterHeightMm} mm)`}
      {ofHeight === null ? null : <Source says={ofHeight} />}
    </>
  );
}

function Source({ says }: { says: string }) {
  return <span className="sheet-source"> [{says}]</span>;
}

/** On a parcel label: nothing of what was read or is ours, "verify" of what nobody has compared. */
function sayOnPaper(mark: SourceMark, isSmall: boolean): string | null {
  if (!isSmall) return sayMark(mark);
  return mark.kind === "from-memory" ? "from memory: verify" : null;
}
