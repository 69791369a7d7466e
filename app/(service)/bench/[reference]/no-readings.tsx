import { EmptyState } from "@/app/_components/empty-state";
import { labelOf } from "@/app/_components/label-of";
import { noFileReasonLabels } from "@/lib/returns/no-file-reasons";

/** Only these say something about the pack itself; the others only about the workshop. */
const tellingReasons: readonly string[] = ["pack-does-not-answer", "reading-it-failed"];

export function NoReadings({ reason }: { reason: string | null }) {
  const why = reason === null ? "no reason was given" : labelOf(noFileReasonLabels, reason).toLowerCase();
  return (
    <EmptyState title={`No readings file came with it: ${why}`}>
      <p>
        A pack that cannot be read is one that cannot be judged, and is treated as damaged until it can.
        {reason !== null && tellingReasons.includes(reason)
          ? " That it could not be read is itself a sign: of the board, the leads or the fuse."
          : ""}
      </p>
    </EmptyState>
  );
}
