import { EmptyState } from "@/app/_components/empty-state";
import { AddReadings } from "@/app/_readings/add-readings";
import { EarlierReadingsList } from "@/app/_readings/earlier-readings-list";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { sayFault } from "@/lib/diagnosis/fault-words";
import { readReadingDrawings } from "@/lib/diagnosis/reading-drawings.schema";
import { groupsCalledHigh } from "@/lib/diagnosis/resistance-dots";
import { readTracePicture } from "@/lib/readings/trace-picture.schema";
import { BenchSection } from "./bench-section";
import { BuiltBesideFound } from "./built-beside-found";
import { FileFacts } from "./file-facts";
import { FindingCard } from "./finding-card";
import { MeasurementsTable } from "./measurements-table";
import { NoReadings } from "./no-readings";
import { CannotJudge } from "./readings/cannot-judge";
import { DeviationFigure } from "./readings/deviation-figure";
import { DriftFigure } from "./readings/drift-figure";
import { ResistanceFigure } from "./readings/resistance-figure";
import { markPlaces } from "./traces/marked-place";
import { TraceDesk } from "./traces/trace-desk";
import { TraceFigure } from "./traces/trace-figure";

/** What the readings show, those before them, and the way to bring others. */
export function ReadingsPart({ page, mayAdd }: { page: BenchReturn; mayAdd: boolean }) {
  const { reference, takesReadings, version, pack } = page;
  return (
    <>
      {takesReadings && mayAdd ? (
        <AddReadings
          key={version}
          reference={reference}
          serial={pack.serial}
          version={version}
          isDanger={page.safetyOpen}
        />
      ) : null}
      <CountingReadings page={page} />
      <EarlierReadingsList
        earlier={page.earlierReadings}
        original={(fileId) => `/bench/${reference}/file?${new URLSearchParams({ file: fileId })}`}
      />
    </>
  );
}

/** What the readings that count show: the picture, the candidates, built beside found, and the file itself. */
function CountingReadings({ page }: { page: BenchReturn }) {
  const { readings, file, noFileReason, measurements } = page;
  if (readings === null || file === null) {
    return <NoReadings reason={noFileReason} />;
  }
  const picture = readTracePicture(page.traces);
  const drawings = readReadingDrawings(page.traces);
  const places = markPlaces(
    drawings?.places ?? [],
    readings.findings.map(({ fault }) => sayFault(fault)),
  );
  return (
    <>
      <BenchSection title="Drawn">
        {picture === null ? (
          <p className="text-soft">The stored picture cannot be drawn. The original file below holds everything.</p>
        ) : (
          <TraceDesk
            reference={page.reference}
            rowsInLog={readings.rows}
            groups={picture.series.flatMap(({ group }) => group ?? [])}
            places={places}
          >
            <TraceFigure picture={picture} places={places} />
          </TraceDesk>
        )}
      </BenchSection>
      <BenchSection title="Group by group over time">
        {drawings === null ? (
          <CannotJudge
            what="How the groups lie apart over time"
            because="The file was read by an earlier release that kept no such picture. The original file below holds everything."
          />
        ) : drawings.deviations === null ? (
          <CannotJudge what="How the groups lie apart" because="Fewer than three groups were logged." />
        ) : (
          <DeviationFigure map={drawings.deviations} />
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
              <FindingCard
                key={`${finding.fault} ${finding.groups.join(" ")}`}
                findings={readings.findings}
                place={index}
              />
            ))}
          </ol>
        )}
      </BenchSection>
      <BenchSection title="Resistance, group by group">
        <ResistanceFigure
          build={page.build}
          whenRead={page.whenRead}
          measurements={measurements}
          refused={drawings?.resistanceRefused ?? null}
          highRatio={page.highRatio}
          namedHigh={groupsCalledHigh(readings.findings)}
        />
      </BenchSection>
      <BenchSection title="Drift at rest">
        <DriftFigure
          drift={
            drawings?.drift ?? {
              outcome: "cannot",
              because: "The file was read by an earlier release that kept no such picture.",
            }
          }
        />
      </BenchSection>
      <BuiltBesideFound page={page} findings={readings.findings} />
      <BenchSection title="Everything measured">
        <MeasurementsTable measurements={measurements} />
      </BenchSection>
      <FileFacts reference={page.reference} readings={readings} file={file} />
    </>
  );
}
