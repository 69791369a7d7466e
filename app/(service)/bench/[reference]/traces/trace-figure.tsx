import { sayElapsed } from "@/lib/readings/elapsed-words";
import type { TracePicture } from "@/lib/readings/trace-picture";
import { traceSentence } from "@/lib/readings/trace-summary";
import { type MarkedPlace, markLabels } from "./marked-place";
import { sleepBreaks, timeMarks } from "./time-axis";
import { TracePanel } from "./trace-panel";
import { tracePanels } from "./trace-panels";
import { TraceTable } from "./trace-table";

/** Share of the width a letter needs on a phone. Engineering default. */
const LETTER_ROOM = 0.06;

/** What the file holds, drawn: three pictures over one time, one sentence, and the same as a table. */
export function TraceFigure({ picture, places = [] }: { picture: TracePicture; places?: readonly MarkedPlace[] }) {
  const drawn = places.map(({ mark, fromRow, toRow }) => ({
    mark,
    from: fromRow / picture.rowsPerBucket,
    to: (toRow + 1) / picture.rowsPerBucket,
  }));
  const breaks = sleepBreaks(picture.timeS);
  const marks = timeMarks(picture.timeS);
  return (
    <figure className="card space-y-5 p-3">
      {drawn.length === 0 ? null : (
        <div aria-hidden className="relative mr-22 ml-12 h-4 text-xs font-bold text-accent">
          {markLabels(drawn, LETTER_ROOM * picture.timeS.length).map(({ text, at }) => (
            <span
              key={text}
              className="absolute -translate-x-1/2 whitespace-nowrap"
              style={{ left: `${(at / Math.max(1, picture.timeS.length - 1)) * 100}%` }}
            >
              {text}
            </span>
          ))}
        </div>
      )}
      {tracePanels(picture).map((panel, position) => (
        <TracePanel key={panel.title} id={`trace-${position}`} panel={panel} breaks={breaks} marks={drawn} />
      ))}
      <div aria-hidden className="relative mr-22 ml-12 h-4 border-t border-ink text-xs">
        {marks.map(({ bucket, timeS }, position) => (
          <span
            key={bucket}
            className={`absolute top-1 -translate-x-1/2 whitespace-nowrap ${
              position > 0 && position < marks.length - 1 ? "hidden sm:inline" : ""
            }`}
            style={{ left: `${(bucket / (picture.timeS.length - 1)) * 100}%` }}
          >
            {sayElapsed(timeS)}
          </span>
        ))}
      </div>
      <figcaption className="space-y-1 pt-1 text-sm">
        <p>{traceSentence(picture)}</p>
        <p className="text-soft">
          Time runs by rows: busy times are wide, rests are narrow, and pauses of the logger take no room
          {breaks.length === 0 ? "" : " (the dotted lines mark them)"}. Each stretch of {picture.rowsPerBucket}{" "}
          {picture.rowsPerBucket === 1 ? "row" : "rows"} is drawn from its lowest to its highest value.
        </p>
      </figcaption>
      <details>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          The picture as a table
        </summary>
        <TraceTable picture={picture} />
      </details>
    </figure>
  );
}
