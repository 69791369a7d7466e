import { area } from "d3-shape";
import { seriesStyle } from "@/app/_components/charts/series-style";
import type { TraceSeries } from "@/lib/readings/trace-picture";
import { bucketX, DRAWING_WIDTH, type PanelScale } from "./panel-scale";
import type { TracePanelFacts } from "./trace-panels";

interface TraceDrawingProps {
  readonly id: string;
  readonly description: string;
  readonly panel: TracePanelFacts;
  readonly scale: PanelScale;
  /** Buckets before which the logger slept. */
  readonly breaks: readonly number[];
  /** Stretches of the log on which findings rest, in buckets. */
  readonly marks: readonly DrawnMark[];
}

export interface DrawnMark {
  readonly mark: string;
  readonly from: number;
  readonly to: number;
}

/**
 * The lines of one panel, stretched to whatever width there is: the paths are long and would otherwise be sent once for
 * the phone and once for the desk. Words stand outside, so that they keep their size.
 */
export function TraceDrawing({ id, description, panel, scale, breaks, marks }: TraceDrawingProps) {
  const { band, traces, heightPx, marksZero } = panel;
  const buckets = (traces[0]?.series ?? band?.lowest)?.lowest.length ?? 0;
  return (
    <svg
      role="img"
      aria-labelledby={`${id}-title`}
      viewBox={`0 0 ${DRAWING_WIDTH} ${heightPx}`}
      preserveAspectRatio="none"
      className="absolute inset-0 size-full overflow-visible"
    >
      <title id={`${id}-title`}>{description}</title>
      {scale.ticks.map((tick) => (
        <HorizontalLine key={tick} y={scale.y(tick)} colour="var(--rule)" />
      ))}
      {marksZero ? <HorizontalLine y={scale.y(0)} colour="var(--ink-soft)" /> : null}
      {breaks.map((bucket) => (
        <line
          key={bucket}
          x1={bucketX(bucket - 0.5, buckets)}
          x2={bucketX(bucket - 0.5, buckets)}
          y1={0}
          y2={heightPx}
          stroke="var(--ink-soft)"
          strokeDasharray="2 4"
          vectorEffect="non-scaling-stroke"
        />
      ))}
      {marks.map(({ mark, from, to }) => (
        <rect
          key={mark}
          x={bucketX(from, buckets)}
          width={Math.max(1.5, bucketX(to, buckets) - bucketX(from, buckets))}
          y={0}
          height={heightPx}
          fill="var(--accent)"
          fillOpacity={0.1}
          stroke="var(--accent)"
          strokeDasharray="4 3"
          vectorEffect="non-scaling-stroke"
        />
      ))}
      {band === null ? null : (
        <path
          d={envelope(band.lowest.lowest, band.highest.highest, buckets, scale)}
          fill="var(--edge)"
          fillOpacity={0.28}
          stroke="var(--edge)"
          strokeWidth={1}
          vectorEffect="non-scaling-stroke"
        />
      )}
      {traces.map(({ series, style }) => (
        <Envelope key={series.key} series={series} style={style} buckets={buckets} scale={scale} />
      ))}
    </svg>
  );
}

function Envelope({
  series,
  style,
  buckets,
  scale,
}: {
  series: TraceSeries;
  style: number | null;
  buckets: number;
  scale: PanelScale;
}) {
  const colour = style === null ? "var(--ink-soft)" : seriesStyle(style).colour;
  return (
    <path
      d={envelope(series.lowest, series.highest, buckets, scale)}
      fill={colour}
      fillOpacity={0.35}
      stroke={colour}
      strokeWidth={1.5}
      strokeDasharray={style === null ? "none" : seriesStyle(style).dash}
      strokeLinejoin="round"
      vectorEffect="non-scaling-stroke"
    />
  );
}

function HorizontalLine({ y, colour }: { y: number; colour: string }) {
  return <line x1={0} x2={DRAWING_WIDTH} y1={y} y2={y} stroke={colour} vectorEffect="non-scaling-stroke" />;
}

/** From the lowest to the highest value of each stretch of rows, so that a spike of one row stands there in full. */
function envelope(
  lowest: readonly (number | null)[],
  highest: readonly (number | null)[],
  buckets: number,
  scale: PanelScale,
): string {
  const corners = lowest.map((low, bucket) => ({ bucket, low, high: highest[bucket] ?? null }));
  const shape = area<(typeof corners)[number]>()
    .digits(1)
    .defined(({ low, high }) => low !== null && high !== null)
    .x(({ bucket }) => bucketX(bucket, buckets))
    .y0(({ low }) => scale.y(low ?? 0))
    .y1(({ high }) => scale.y(high ?? 0));
  return shape(corners) ?? "";
}
