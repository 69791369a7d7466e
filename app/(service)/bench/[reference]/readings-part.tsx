import { EmptyState } from "@/app/_components/empty-state";
import { labelOf } from "@/app/_components/label-of";
import type { BenchReturn } from "@/lib/data/bench-returns";
import { readTracePicture } from "@/lib/readings/trace-picture.schema";
import { noFileReasonLabels } from "@/lib/returns/no-file-reasons";
import { BenchSection } from "./bench-section";
import { BuiltBesideFound } from "./built-beside-found";
import { FileFacts } from "./file-facts";
import { FindingCard } from "./finding-card";
import { MeasurementsTable } from "./measurements-table";
import { TraceFigure } from "./traces/trace-figure";

/** What the readings show: the picture, the candidates, built beside found, and the file itself. */
export function ReadingsPart({ page }: { page: BenchReturn }) {
  const { readings, file, noFileReason, measurements } = page;
  if (readings === null || file === null) {
    return <NoFile reason={noFileReason} />;
  }
  const picture = readTracePicture(page.traces);
  return (
    <>
      <BenchSection title="Drawn">
        {picture === null ? (
          <p className="text-soft">The stored picture cannot be drawn. The original file below holds everything.</p>
        ) : (
          <TraceFigure picture={picture} />
        )}
      </BenchSection>
      <BenchSection title="What they point to">
        {readings.findings.length === 0 ? (
          <EmptyState title="The readings cannot tell">
            <p>
              Nothing in this file points to a fault, and nothing in it clears the pack either. That is an answer:
              {readings.coverage < 0.5 ? " too little of the time is covered to say more." : " a test has to say more."}
            </p>
          </EmptyState>
        ) : (
          <ol className="space-y-3">
            {readings.findings.map((finding, index) => (
              <FindingCard key={`${finding.fault} ${finding.groups.join(" ")}`} finding={finding} place={index + 1} />
            ))}
          </ol>
        )}
      </BenchSection>
      <BuiltBesideFound page={page} findings={readings.findings} />
      <BenchSection title="Everything measured">
        <MeasurementsTable measurements={measurements} />
      </BenchSection>
      <FileFacts reference={page.reference} readings={readings} file={file} />
    </>
  );
}

/** Only these say something about the pack itself; the others only about the workshop. */
const tellingReasons: readonly string[] = ["pack-does-not-answer", "reading-it-failed"];

function NoFile({ reason }: { reason: string | null }) {
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
