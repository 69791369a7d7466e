import { scaleLog } from "d3-scale";
import { ChartFigure } from "./chart-figure";
import { ChartPicture } from "./chart-picture";
import type { ChartForm } from "./survival-layout";

export interface ForestRow {
  readonly name: string;
  /** Times as often as the others; null where only the limits are known. */
  readonly ratio: number | null;
  readonly lower: number;
  /** Null for no upper limit. */
  readonly upper: number | null;
  /** Stands out: drawn filled and bold, so that it does not rest on colour. */
  readonly strong: boolean;
}

interface ForestPlotProps {
  readonly id: string;
  readonly title: string;
  /** One sentence that a reader without statistics understands; also the description for those who do not see. */
  readonly sentence: string;
  readonly rows: readonly ForestRow[];
}

const compact: Pick<ChartForm, "name" | "width" | "fontSize" | "left" | "right"> = {
  name: "compact",
  width: 340,
  fontSize: 12,
  left: 92,
  right: 14,
};
const roomy = { name: "roomy", width: 760, fontSize: 13, left: 190, right: 24 } as const;

/** Ratios drawn; limits beyond run to the edge and end in an arrow. Engineering default, no authority. */
const DRAWN = [0.1, 10] as const;
const TICKS = [0.1, 0.2, 0.5, 1, 2, 5, 10];

/** How many times as often each group fails as the others, with limits, on a scale on which twice and half are equally far. */
export function ForestPlot(props: ForestPlotProps) {
  if (props.rows.length === 0) return <p className="text-soft">No two groups can be held against each other yet.</p>;
  return (
    <ChartFigure
      compact={<Plot {...props} form={compact} />}
      roomy={<Plot {...props} form={roomy} />}
      caption={props.sentence}
    />
  );
}

function Plot({ id, title, sentence, rows, form }: ForestPlotProps & { readonly form: typeof compact | typeof roomy }) {
  const rowHeight = form.fontSize * 1.9;
  const top = 8;
  const bottom = top + rows.length * rowHeight;
  const x = scaleLog([...DRAWN], [form.left, form.width - form.right]).clamp(true);
  const ticks = form.name === "compact" ? TICKS.filter((tick) => tick !== 0.2 && tick !== 5) : TICKS;
  return (
    <ChartPicture
      id={`${id}-${form.name}`}
      title={title}
      description={sentence}
      width={form.width}
      height={bottom + form.fontSize * 4}
      fontSize={form.fontSize}
    >
      {ticks.map((tick) => (
        <g key={tick}>
          <line
            x1={x(tick)}
            x2={x(tick)}
            y1={top}
            y2={bottom}
            stroke={tick === 1 ? "var(--ink)" : "var(--rule)"}
            strokeWidth={tick === 1 ? 1.5 : 1}
          />
          <text x={x(tick)} y={bottom + form.fontSize * 1.3} textAnchor="middle">
            {tick}
          </text>
        </g>
      ))}
      <text x={form.width - form.right} y={bottom + form.fontSize * 2.9} textAnchor="end" fill="var(--ink-soft)">
        times as often as the others, at equal age
      </text>
      {rows.map((row, i) => (
        <Row
          key={row.name}
          row={row}
          x={x}
          y={top + (i + 0.5) * rowHeight}
          labelEnd={form.left - 8}
          fontSize={form.fontSize}
        />
      ))}
    </ChartPicture>
  );
}

interface RowProps {
  readonly row: ForestRow;
  readonly x: (ratio: number) => number;
  readonly y: number;
  readonly labelEnd: number;
  readonly fontSize: number;
}

function Row({ row, x, y, labelEnd, fontSize }: RowProps) {
  const { name, ratio, lower, upper, strong } = row;
  const from = x(Math.max(lower, DRAWN[0]));
  const to = x(Math.min(upper ?? DRAWN[1], DRAWN[1]));
  const longest = Math.floor(labelEnd / (fontSize * 0.6));
  const label = name.length > longest ? `${name.slice(0, longest - 1)}…` : name;
  return (
    <g>
      <text x={labelEnd} y={y} dy="0.35em" textAnchor="end" fontWeight={strong ? 700 : 400}>
        {label}
      </text>
      <line x1={from} x2={to} y1={y} y2={y} stroke="var(--ink)" strokeWidth={strong ? 3 : 1.25} />
      {lower < DRAWN[0] ? <path d={`M${from} ${y}l6 -4v8z`} fill="var(--ink)" /> : null}
      {upper === null || upper > DRAWN[1] ? <path d={`M${to} ${y}l-6 -4v8z`} fill="var(--ink)" /> : null}
      {ratio === null || ratio === 0 ? null : (
        <rect
          x={x(ratio) - 4.5}
          y={y - 4.5}
          width={9}
          height={9}
          fill={strong ? "var(--ink)" : "var(--paper-raised)"}
          stroke="var(--ink)"
          strokeWidth={1.5}
        />
      )}
    </g>
  );
}
