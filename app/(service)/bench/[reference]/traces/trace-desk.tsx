"use client";

import dynamic from "next/dynamic";
import { type KeyboardEvent, type ReactNode, useMemo, useRef, useState } from "react";
import { Button } from "@/app/_components/button";
import { sayElapsed } from "@/lib/readings/elapsed-words";
import type { TraceWindow } from "@/lib/readings/trace-window";
import type { MarkedPlace } from "./marked-place";
import { PlaceList } from "./place-list";
import { tracePanels } from "./trace-panels";
import { TraceTable } from "./trace-table";
import { shownIn, useTraceWindow } from "./use-trace-window";
import { type Move, moved, moveOfKey, moves, type Span, spanOfPlace } from "./window-moves";

// The drawing library comes over the line only when somebody looks closer.
const TracePlot = dynamic(() => import("./trace-plot").then((loaded) => loaded.TracePlot), { ssr: false });

interface TraceDeskProps {
  readonly reference: string;
  readonly rowsInLog: number;
  readonly groups: readonly number[];
  readonly places: readonly MarkedPlace[];
  /** The picture of the whole log, drawn on the server: all there is until somebody looks closer. */
  readonly children: ReactNode;
}

const moveWords: Readonly<Record<Move, string>> = {
  earlier: "Earlier",
  later: "Later",
  closer: "Closer",
  wider: "Wider",
  whole: "Whole log",
};

/** The traces, and the way into them down to single rows, by pointer, by buttons, and by keys. */
export function TraceDesk({ reference, rowsInLog, groups, places, children }: TraceDeskProps) {
  const [span, setSpan] = useState<Span | null>(null);
  const state = useTraceWindow(reference, span, groups);
  const shown = shownIn(state);
  const region = useRef<HTMLElement>(null);
  const go = (to: Span) => setSpan(to);
  const step = (move: Move) => setSpan((now) => moved(now ?? { fromRow: 0, toRow: rowsInLog }, move, rowsInLog));
  const goTo = (place: MarkedPlace) => {
    go(spanOfPlace(place, rowsInLog));
    region.current?.focus();
  };
  const onKey = (event: KeyboardEvent) => {
    const move = event.ctrlKey || event.metaKey || event.altKey ? null : moveOfKey(event.key);
    if (move === null || event.target !== region.current) return;
    event.preventDefault();
    step(move);
  };
  return (
    <div className="space-y-3">
      {span === null ? children : null}
      <section
        ref={region}
        aria-label="Look closer at the readings. Arrow keys move, plus and minus change the width, 0 shows the whole log."
        tabIndex={span === null ? -1 : 0}
        onKeyDown={onKey}
        className={span === null ? "" : "card space-y-4 p-3"}
      >
        {span === null ? (
          <Button weight="second" onClick={() => step("whole")} className="screen-only">
            Look closer, down to single rows
          </Button>
        ) : (
          <>
            <div className="flex flex-wrap gap-2">
              {moves.map((move) => (
                <Button key={move} weight="second" onClick={() => step(move)} className="px-3">
                  {moveWords[move]}
                </Button>
              ))}
              <Button weight="plain" onClick={() => setSpan(null)}>
                Close
              </Button>
            </div>
            <p role="status" className="text-sm">
              {state.kind === "failed"
                ? "This part could not be fetched. What was shown before stays; try the step again."
                : shown === null
                  ? "The readings are being laid out. The first look takes a moment."
                  : `${state.kind === "loading" ? "Fetching the next part. Still shown: " : ""}${sayWindow(shown)}`}
            </p>
            {shown === null ? null : <Window shown={shown} places={places} onChoose={go} />}
          </>
        )}
      </section>
      <PlaceList places={places} onGo={goTo} />
    </div>
  );
}

function Window({
  shown,
  places,
  onChoose,
}: {
  shown: TraceWindow;
  places: readonly MarkedPlace[];
  onChoose: (span: Span) => void;
}) {
  const panels = useMemo(() => tracePanels(shown), [shown]);
  return (
    <>
      {panels.map((panel) => (
        <TracePlot key={panel.title} panel={panel} window={shown} places={places} onChoose={onChoose} />
      ))}
      <p className="text-sm text-soft">
        Draw across a picture to look closer there. With the keys: arrows move, + and − change the width, 0 shows the
        whole log.
      </p>
      <details>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          This part as a table
        </summary>
        <TraceTable picture={shown} />
      </details>
    </>
  );
}

function sayWindow({ fromRow, toRow, rowsInLog, rowsPerBucket, timeS }: TraceWindow): string {
  const rows = `Rows ${fromRow + 1} to ${toRow} of ${rowsInLog}`;
  const time = `${sayElapsed(timeS[0] ?? 0)} to ${sayElapsed(timeS.at(-1) ?? 0)} after the first row`;
  const each =
    rowsPerBucket === 1
      ? "every row is drawn"
      : `each point is the lowest and highest of ${rowsPerBucket} rows, none left out`;
  return `${rows}, ${time}; ${each}.`;
}
