import { scaleLinear } from "d3-scale";
import { area, curveStepAfter, line } from "d3-shape";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import { grouped } from "@/lib/reliability/plain-share";
import { ChartFigure } from "./chart-figure";
import { ChartPicture } from "./chart-picture";

export interface MeanCountStep {
  readonly ageDays: number;
  readonly mean: number;
  readonly lower: number;
  readonly upper: number;
}

interface MeanCountChartProps {
  readonly id: string;
  readonly title: string;
  /** One sentence that a reader without statistics understands. */
  readonly sentence: string;
  readonly axis: string;
  readonly steps: readonly MeanCountStep[];
  /** How many were watched at the marked ages, in months. */
  readonly watched: readonly { readonly months: number; readonly atRisk: number }[];
}

const compact = { name: "compact", width: 340, height: 200, fontSize: 12, left: 40, right: 12 } as const;
const roomy = { name: "roomy", width: 760, height: 280, fontSize: 13, left: 52, right: 24 } as const;
type Form = typeof compact | typeof roomy;

/** Room above the curve, so that its highest number is not cut. */
const TOP = 12;

/** A mean number that grows with age, as steps with the band of its limits, and beneath it how many were watched so long. */
export function MeanCountChart(props: MeanCountChartProps) {
  if (props.steps.length === 0 || props.watched.length === 0) return null;
  return (
    <ChartFigure
      compact={<Plot {...props} form={compact} />}
      roomy={<Plot {...props} form={roomy} />}
      caption={props.sentence}
    />
  );
}

function Plot({ id, title, sentence, axis, steps, watched, form }: MeanCountChartProps & { readonly form: Form }) {
  const { width, height, fontSize, left, right } = form;
  const lastMonth = Math.max(...watched.map(({ months }) => months));
  const lastDays = daysAtMonths(lastMonth);
  const shown = steps.filter(({ ageDays }) => ageDays <= lastDays);
  const end = shown.at(-1);
  const corners = [
    { ageDays: 0, mean: 0, lower: 0, upper: 0 },
    ...shown,
    ...(end === undefined ? [] : [{ ...end, ageDays: lastDays }]),
  ];
  const x = scaleLinear([0, lastDays], [left, width - right]);
  const y = scaleLinear([0, Math.max(0.01, ...shown.map(({ upper }) => upper))], [height, TOP]).nice(5);
  const band = area<MeanCountStep>()
    .curve(curveStepAfter)
    .x(({ ageDays }) => x(ageDays))
    .y0(({ lower }) => y(lower))
    .y1(({ upper }) => y(upper));
  const curve = line<MeanCountStep>()
    .curve(curveStepAfter)
    .x(({ ageDays }) => x(ageDays))
    .y(({ mean }) => y(mean));
  return (
    <ChartPicture
      id={`${id}-${form.name}`}
      title={title}
      description={sentence}
      width={width}
      height={height + fontSize * 6}
      fontSize={fontSize}
    >
      {y.ticks(5).map((tick) => (
        <g key={tick}>
          <line x1={left} x2={width - right} y1={y(tick)} y2={y(tick)} stroke="var(--rule)" />
          <text x={left - 6} y={y(tick)} dy="0.35em" textAnchor="end">
            {tick}
          </text>
        </g>
      ))}
      <path d={band(corners) ?? ""} fill="var(--series-1)" opacity={0.16} />
      <path d={curve(corners) ?? ""} fill="none" stroke="var(--series-1)" strokeWidth={2.5} />
      {[{ months: 0, atRisk: null }, ...watched].map(({ months, atRisk }) => (
        <g key={months} transform={`translate(${x(daysAtMonths(months))} ${height})`}>
          <line y2={5} stroke="var(--ink-soft)" />
          <text y={fontSize * 1.5} textAnchor={months === lastMonth ? "end" : "middle"}>
            {months}
          </text>
          {atRisk === null ? null : (
            <text y={fontSize * 5} textAnchor={months === lastMonth ? "end" : "middle"} fill="var(--ink-soft)">
              {grouped(atRisk)}
            </text>
          )}
        </g>
      ))}
      <text x={left} y={height + fontSize * 2.8} fill="var(--ink-soft)">
        {axis}
      </text>
      <text x={left} y={height + fontSize * 3.9} fill="var(--ink-soft)">
        watched so long:
      </text>
    </ChartPicture>
  );
}
