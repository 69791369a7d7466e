import { scaleLinear } from "d3-scale";
import { ChartFigure } from "./chart-figure";
import { ChartPicture } from "./chart-picture";

export interface IntervalRow {
  readonly name: string;
  /** Null where nothing can be told: the row says so in place of a line. */
  readonly interval: { readonly value: number; readonly lower: number; readonly upper: number } | null;
}

interface IntervalPlotProps {
  readonly id: string;
  readonly title: string;
  /** One sentence that a reader without statistics understands; also the description for those who do not see. */
  readonly sentence: string;
  readonly axis: string;
  readonly rows: readonly IntervalRow[];
}

const compact = { name: "compact", width: 340, fontSize: 12, left: 84, right: 16, ticks: 4 } as const;
const roomy = { name: "roomy", width: 760, fontSize: 13, left: 150, right: 28, ticks: 8 } as const;

/** Numbers with their limits, one row each: a square for the number, a line from limit to limit. */
export function IntervalPlot(props: IntervalPlotProps) {
  if (props.rows.every(({ interval }) => interval === null)) return null;
  return (
    <ChartFigure
      compact={<Plot {...props} form={compact} />}
      roomy={<Plot {...props} form={roomy} />}
      caption={props.sentence}
    />
  );
}

function Plot({
  id,
  title,
  sentence,
  axis,
  rows,
  form,
}: IntervalPlotProps & { readonly form: typeof compact | typeof roomy }) {
  const rowHeight = form.fontSize * 1.9;
  const top = 8;
  const bottom = top + rows.length * rowHeight;
  const most = Math.max(1, ...rows.map(({ interval }) => interval?.upper ?? 0));
  const x = scaleLinear([0, most], [form.left, form.width - form.right]).nice(form.ticks);
  return (
    <ChartPicture
      id={`${id}-${form.name}`}
      title={title}
      description={sentence}
      width={form.width}
      height={bottom + form.fontSize * 4}
      fontSize={form.fontSize}
    >
      {x.ticks(form.ticks).map((tick) => (
        <g key={tick}>
          <line x1={x(tick)} x2={x(tick)} y1={top} y2={bottom} stroke="var(--rule)" />
          <text x={x(tick)} y={bottom + form.fontSize * 1.3} textAnchor="middle">
            {tick}
          </text>
        </g>
      ))}
      <text x={form.width - form.right} y={bottom + form.fontSize * 2.9} textAnchor="end" fill="var(--ink-soft)">
        {axis}
      </text>
      {rows.map(({ name, interval }, i) => {
        const y = top + (i + 0.5) * rowHeight;
        return (
          <g key={name}>
            <text x={form.left - 8} y={y} dy="0.35em" textAnchor="end">
              {name}
            </text>
            {interval === null ? (
              <text x={form.left + 4} y={y} dy="0.35em" fill="var(--ink-soft)">
                cannot tell yet
              </text>
            ) : (
              <>
                <line
                  x1={x(interval.lower)}
                  x2={x(interval.upper)}
                  y1={y}
                  y2={y}
                  stroke="var(--ink)"
                  strokeWidth={1.75}
                />
                <rect x={x(interval.value) - 4.5} y={y - 4.5} width={9} height={9} fill="var(--ink)" />
              </>
            )}
          </g>
        );
      })}
    </ChartPicture>
  );
}
