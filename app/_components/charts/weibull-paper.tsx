import { scaleLinear, scaleLog } from "d3-scale";
import { line } from "d3-shape";
import { paperHeight, type WeibullPlot } from "@/lib/reliability/weibull-plot";
import { ChartFigure } from "./chart-figure";
import { ChartPicture } from "./chart-picture";

interface WeibullPaperProps {
  readonly id: string;
  readonly title: string;
  readonly sentence: string;
  readonly plot: Extract<WeibullPlot, { kind: "plot" }>;
}

const compact = { name: "compact", width: 340, height: 240, fontSize: 12, left: 54, right: 16 } as const;
const roomy = { name: "roomy", width: 760, height: 340, fontSize: 13, left: 70, right: 28 } as const;

/** Shares marked on the axis, where they lie inside the picture. */
const SHARES = [0.0001, 0.0003, 0.001, 0.003, 0.01, 0.03, 0.1, 0.3, 0.6, 0.9, 0.99];
const AGES = [1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000];

/** Failures on Weibull paper: circles for the points, a full line for the fit, dashed lines for its limits. */
export function WeibullPaper(props: WeibullPaperProps) {
  return (
    <ChartFigure
      compact={<Paper {...props} form={compact} />}
      roomy={<Paper {...props} form={roomy} />}
      caption={<>{props.sentence} Circles are failures, the full line is the fit, the dashed lines its 95 % limits.</>}
    />
  );
}

function Paper({
  id,
  title,
  sentence,
  plot,
  form,
}: WeibullPaperProps & { readonly form: typeof compact | typeof roomy }) {
  const top = 10;
  const shares = [...plot.points.map(({ plotted }) => plotted), ...plot.line.map(({ failed }) => failed)];
  const heights = shares.map(paperHeight);
  const ages = plot.points.map(({ ageDays }) => ageDays);
  const x = scaleLog([Math.min(...ages) / 1.15, Math.max(...ages) * 1.15], [form.left, form.width - form.right]);
  const y = scaleLinear([Math.min(...heights) - 0.5, Math.max(...heights) + 0.5], [top + form.height, top]);
  const inPicture = (height: number) => height >= Math.min(...y.domain()) && height <= Math.max(...y.domain());
  const drawn = (side: "failed" | "lower" | "upper") =>
    line<(typeof plot.line)[number]>()
      .x(({ ageDays }) => x(ageDays))
      .y((at) => y(paperHeight(at[side])))(plot.line) ?? "";
  const [least, most] = [x.domain()[0] ?? 1, x.domain()[1] ?? 1];
  return (
    <ChartPicture
      id={`${id}-${form.name}`}
      title={title}
      description={sentence}
      width={form.width}
      height={top + form.height + form.fontSize * 3.6}
      fontSize={form.fontSize}
    >
      <clipPath id={`${id}-${form.name}-frame`}>
        <rect x={form.left} y={top} width={form.width - form.left - form.right} height={form.height} />
      </clipPath>
      {SHARES.filter((share) => inPicture(paperHeight(share))).map((share) => (
        <g key={share}>
          <line
            x1={form.left}
            x2={form.width - form.right}
            y1={y(paperHeight(share))}
            y2={y(paperHeight(share))}
            stroke="var(--rule)"
          />
          <text x={form.left - 6} y={y(paperHeight(share))} dy="0.35em" textAnchor="end">
            {Number((share * 100).toPrecision(2))} %
          </text>
        </g>
      ))}
      {AGES.filter((age) => age >= least && age <= most).map((age) => (
        <g key={age}>
          <line x1={x(age)} x2={x(age)} y1={top} y2={top + form.height} stroke="var(--rule)" />
          <text x={x(age)} y={top + form.height + form.fontSize * 1.3} textAnchor="middle">
            {age}
          </text>
        </g>
      ))}
      <text
        x={form.width - form.right}
        y={top + form.height + form.fontSize * 2.8}
        textAnchor="end"
        fill="var(--ink-soft)"
      >
        age in days; upwards: share failed
      </text>
      <g clipPath={`url(#${id}-${form.name}-frame)`} fill="none" stroke="var(--ink)">
        <path d={drawn("failed")} strokeWidth={2} />
        <path d={drawn("lower")} strokeDasharray="5 4" />
        <path d={drawn("upper")} strokeDasharray="5 4" />
        {plot.points.map(({ ageDays, plotted }) => (
          <circle
            key={ageDays}
            cx={x(ageDays)}
            cy={y(paperHeight(plotted))}
            r={3.5}
            fill="var(--paper-raised, var(--paper))"
          />
        ))}
      </g>
    </ChartPicture>
  );
}
