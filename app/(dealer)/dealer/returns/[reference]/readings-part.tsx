import { labelOf } from "@/app/_components/label-of";
import { noFileReasonLabels } from "@/lib/returns/no-file-reasons";
import { ReadingInPlainWords, type ReadingSummary } from "../../reading-in-plain-words";

interface ReadingsPartProps {
  readonly readings: ReadingSummary | null;
  readonly noFileReason: string | null;
}

export function ReadingsPart({ readings, noFileReason }: ReadingsPartProps) {
  if (readings !== null) return <ReadingInPlainWords summary={readings} />;
  return (
    <p>
      No readings file was sent
      {noFileReason === null ? "." : `: ${labelOf(noFileReasonLabels, noFileReason)}.`} A pack without readings is
      treated as one that cannot be judged yet.
    </p>
  );
}
