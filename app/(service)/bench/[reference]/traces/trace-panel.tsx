import { placeLabels } from "@/app/_components/charts/place-labels";
import { seriesStyle } from "@/app/_components/charts/series-style";
import { panelScale } from "./panel-scale";
import { type DrawnMark, TraceDrawing } from "./trace-drawing";
import type { TracePanelFacts } from "./trace-panels";

interface TracePanelProps {
  readonly id: string;
  readonly panel: TracePanelFacts;
  readonly breaks: readonly number[];
  readonly marks: readonly DrawnMark[];
}

const LABEL_PX = 12;

/** One of the stacked pictures: its name and unit, ticks on the left, the lines, and each line's name where it ends. */
export function TracePanel({ id, panel, breaks, marks }: TracePanelProps) {
  const scale = panelScale(panel);
  const { title, unit, heightPx, band } = panel;
  return (
    <div>
      <p className="caption-print mb-2">
        {title}, {unit}
      </p>
      <div className="relative mr-22 ml-12" style={{ height: heightPx }}>
        <TraceDrawing
          id={id}
          description={`${title} in ${unit}${band === null ? "" : ", all groups as a band, named groups as lines"}`}
          panel={panel}
          scale={scale}
          breaks={breaks}
          marks={marks}
        />
        {/* The same is in the table below, in words. */}
        <div aria-hidden className="text-xs leading-none">
          {scale.ticks.map((tick) => (
            <span
              key={tick}
              className="absolute right-full mr-1.5 -translate-y-1/2 whitespace-nowrap"
              style={{ top: scale.y(tick) }}
            >
              {tick.toFixed(scale.decimals).replace("-", "−")}
            </span>
          ))}
          {endLabels(panel, scale.y).map(({ text, y, colour }) => (
            <span
              key={text}
              className="absolute left-full ml-1.5 max-w-21 -translate-y-1/2 truncate font-medium"
              style={{ top: y, color: colour }}
            >
              {text}
            </span>
          ))}
        </div>
      </div>
    </div>
  );
}

function endLabels({ traces, band, heightPx }: TracePanelFacts, y: (value: number) => number) {
  const lines = traces.map(({ series, style }) => ({
    text: series.label.replace(/^Temperature (?=.)/, ""),
    x: 0,
    y: y(lastMiddle(series.lowest, series.highest) ?? 0),
    colour: style === null ? "var(--ink-soft)" : seriesStyle(style).colour,
  }));
  const all =
    band === null
      ? []
      : [
          {
            text: "All groups",
            x: 0,
            y: y(lastMiddle(band.lowest.lowest, band.highest.highest) ?? 0),
            colour: "var(--ink-soft)",
          },
        ];
  const placed = placeLabels([...lines, ...all], LABEL_PX);
  // Labels are only ever pushed down, so a crowd at the bottom is lifted by what hangs out.
  const overhang = Math.max(0, ...placed.map((label) => label.y - heightPx));
  return placed.map((label) => ({ ...label, y: label.y - overhang }));
}

function lastMiddle(lowest: readonly (number | null)[], highest: readonly (number | null)[]): number | null {
  const at = lowest.findLastIndex((value) => value !== null);
  const low = lowest[at] ?? null;
  const high = highest[at] ?? null;
  return low === null || high === null ? null : (low + high) / 2;
}
