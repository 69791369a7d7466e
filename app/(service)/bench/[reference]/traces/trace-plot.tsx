"use client";

import { useEffect, useRef } from "react";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { seriesStyle } from "@/app/_components/charts/series-style";
import { sayElapsed } from "@/lib/readings/elapsed-words";
import type { TraceWindow } from "@/lib/readings/trace-window";
import { type MarkedPlace, markLabels } from "./marked-place";
import type { TracePanelFacts } from "./trace-panels";
import type { Span } from "./window-moves";

interface TracePlotProps {
  readonly panel: TracePanelFacts;
  readonly window: TraceWindow;
  readonly places: readonly MarkedPlace[];
  readonly onChoose: (span: Span) => void;
}

/** One panel that can be looked into: drawn on canvas, because a window may hold thousands of points. */
export function TracePlot({ panel, window: shown, places, onChoose }: TracePlotProps) {
  const place = useRef<HTMLDivElement>(null);
  const choose = useRef(onChoose);
  choose.current = onChoose;

  useEffect(() => {
    const host = place.current;
    if (host === null) return;
    const plot = new uPlot(
      optionsFor(panel, shown, places, host.clientWidth, (span) => choose.current(span)),
      dataOf(panel, shown),
      host,
    );
    const watch = new ResizeObserver(() => plot.setSize({ width: host.clientWidth, height: plot.height }));
    watch.observe(host);
    return () => {
      watch.disconnect();
      plot.destroy();
    };
  }, [panel, shown, places]);

  return (
    <div>
      <p className="caption-print mb-1">
        {panel.title}, {panel.unit}
      </p>
      <div ref={place} aria-hidden className="w-full" />
      <ul className="flex flex-wrap gap-x-4 text-xs">
        {panel.band === null ? null : <Key style={null} text="all groups" />}
        {panel.traces.map(({ series, style }) => (
          <Key key={series.key} style={style} text={series.label.replace(/^Temperature (?=.)/, "")} />
        ))}
      </ul>
    </div>
  );
}

function Key({ style, text }: { style: number | null; text: string }) {
  const look = style === null ? { colour: "var(--ink-soft)", dash: "none" } : seriesStyle(style);
  return (
    <li className="flex items-center gap-1.5">
      <svg width="28" height="8" aria-hidden="true">
        <line x1="0" x2="28" y1="4" y2="4" stroke={look.colour} strokeWidth="2" strokeDasharray={look.dash} />
      </svg>
      {text}
    </li>
  );
}

function ink(variable: string): string {
  return getComputedStyle(document.documentElement)
    .getPropertyValue(variable.replace(/^var\((.*)\)$/, "$1"))
    .trim();
}

function dataOf({ band, traces }: TracePanelFacts, { fromRow, rowsPerBucket, timeS }: TraceWindow): uPlot.AlignedData {
  const rows = timeS.map((_, bucket) => fromRow + bucket * rowsPerBucket);
  const drawn = [...(band === null ? [] : [[...band.lowest.lowest], [...band.highest.highest]])];
  for (const { series } of traces) drawn.push([...series.lowest], [...series.highest]);
  return [rows, ...drawn];
}

function optionsFor(
  panel: TracePanelFacts,
  shown: TraceWindow,
  places: readonly MarkedPlace[],
  width: number,
  onChoose: (span: Span) => void,
): uPlot.Options {
  const soft = ink("--ink-soft");
  const lines = [
    ...(panel.band === null ? [] : [{ colour: ink("--edge"), dash: "none" }]),
    ...panel.traces.map(({ style }) => {
      const look = style === null ? { colour: "var(--ink-soft)", dash: "none" } : seriesStyle(style);
      return { colour: ink(look.colour), dash: look.dash };
    }),
  ];
  const pairs = lines.flatMap(({ colour, dash }): uPlot.Series[] => {
    const dashes = dash === "none" ? {} : { dash: dash.split(" ").map(Number) };
    return [
      {
        stroke: colour,
        width: 1.5,
        ...dashes,
        points: { show: shown.rowsPerBucket === 1 && shown.timeS.length < 120 },
      },
      { stroke: colour, width: 1.5, ...dashes, points: { show: false } },
    ];
  });
  const axis = { stroke: soft, grid: { stroke: ink("--rule"), width: 1 }, ticks: { stroke: soft, width: 1 } };
  return {
    width,
    height: panel.heightPx + 30,
    legend: { show: false },
    cursor: { y: false, drag: { x: true, y: false, setScale: false }, sync: { key: "traces" } },
    scales: { x: { time: false, range: () => [shown.fromRow, shown.toRow] } },
    axes: [
      { ...axis, size: 28, values: (_, rows) => rows.map((row) => sayElapsed(timeAt(shown, row))), space: 90 },
      { ...axis, size: 48 },
    ],
    series: [{}, ...pairs],
    bands: lines.map(({ colour }, index) => ({ series: [2 * index + 2, 2 * index + 1], fill: `${colour}44` })),
    hooks: {
      draw: [(plot) => drawPlaces(plot, places)],
      setSelect: [
        (plot) => {
          const { left, width: chosen } = plot.select;
          if (chosen < 4) return;
          onChoose({
            fromRow: Math.floor(plot.posToVal(left, "x")),
            toRow: Math.ceil(plot.posToVal(left + chosen, "x")),
          });
          plot.setSelect({ left: 0, top: 0, width: 0, height: 0 }, false);
        },
      ],
    },
  };
}

/** Seconds at a row, straight between the stretches shown. */
function timeAt({ fromRow, rowsPerBucket, timeS }: TraceWindow, row: number): number {
  const at = Math.min(Math.max(0, (row - fromRow) / rowsPerBucket), timeS.length - 1);
  const low = timeS[Math.floor(at)] ?? 0;
  return Math.max(0, low + (at - Math.floor(at)) * ((timeS[Math.ceil(at)] ?? low) - low));
}

/** Width a letter needs. */
const LETTER_ROOM_PX = 14;

function drawPlaces(plot: uPlot, places: readonly MarkedPlace[]): void {
  const { ctx, bbox } = plot;
  ctx.save();
  ctx.beginPath();
  ctx.rect(bbox.left, bbox.top, bbox.width, bbox.height);
  ctx.clip();
  ctx.strokeStyle = ink("--accent");
  ctx.fillStyle = ink("--accent");
  ctx.lineWidth = devicePixelRatio;
  ctx.font = `bold ${11 * devicePixelRatio}px sans-serif`;
  ctx.textAlign = "left";
  ctx.setLineDash([4 * devicePixelRatio, 3 * devicePixelRatio]);
  for (const { fromRow, toRow } of places) {
    const from = plot.valToPos(fromRow, "x", true);
    const to = plot.valToPos(toRow + 1, "x", true);
    ctx.globalAlpha = 0.12;
    ctx.fillRect(from, bbox.top, Math.max(2, to - from), bbox.height);
    ctx.globalAlpha = 1;
    ctx.strokeRect(from, bbox.top - 2, Math.max(2, to - from), bbox.height + 4);
  }
  const letters = places.map(({ mark, fromRow }) => ({ mark, from: plot.valToPos(fromRow, "x", true) }));
  for (const { text, at } of markLabels(letters, LETTER_ROOM_PX * devicePixelRatio))
    ctx.fillText(text, at + 3 * devicePixelRatio, bbox.top + 12 * devicePixelRatio);
  ctx.restore();
}
