import type { GroupReport } from "@/lib/reliability/group-report";
import { AtRiskRow } from "./at-risk-row";
import { ChartPicture } from "./chart-picture";
import { EndLabels } from "./end-labels";
import { seriesStyle } from "./series-style";
import { SurvivalAxes } from "./survival-axes";
import { type ChartForm, squeezedTo, survivalLayout, withRoomForNames } from "./survival-layout";
import { ConfirmedCurve, SurvivalSeries } from "./survival-series";

interface SurvivalPlotProps {
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly reports: readonly GroupReport[];
  readonly highlighted: readonly string[];
  readonly form: ChartForm;
}

const TOP = 26;

/** The share failed by age as an SVG picture in one form, with the numbers at risk beneath. */
export function SurvivalPlot({ id, title, description, reports, highlighted, form: asked }: SurvivalPlotProps) {
  const names = reports.map(({ group }) => group);
  const form = withRoomForNames(asked, names);
  const layout = survivalLayout(reports, highlighted, form);
  const rowHeight = form.fontSize * 1.5;
  const riskTop = form.plotHeight + form.fontSize * 4.6;
  const height = TOP + riskTop + reports.length * rowHeight + form.fontSize / 2;
  const drawn = reports.map((report, position) => ({
    report,
    style: seriesStyle(position),
    strong: highlighted.includes(report.group),
  }));
  // What is highlighted is drawn last, over the others.
  const inDepth = [...drawn].sort((a, b) => Number(a.strong) - Number(b.strong));

  return (
    <ChartPicture
      id={id}
      title={title}
      description={description}
      width={form.width}
      height={height}
      fontSize={form.fontSize}
    >
      <clipPath id={`${id}-frame`}>
        <rect x={form.left} y={0} width={form.width - form.left - form.right} height={form.plotHeight} />
      </clipPath>
      <g transform={`translate(0 ${TOP})`}>
        <SurvivalAxes form={form} layout={layout} />
        <g clipPath={`url(#${id}-frame)`}>
          {inDepth.map(({ report, style, strong }) => (
            <SurvivalSeries key={report.group} report={report} style={style} strong={strong} layout={layout} />
          ))}
          {inDepth.flatMap(({ report, style, strong }) =>
            strong ? (
              <ConfirmedCurve
                key={report.group}
                points={report.confirmedSoFar ?? []}
                colour={reports.length === 1 ? "var(--ink)" : style.colour}
                layout={layout}
              />
            ) : (
              []
            ),
          )}
        </g>
        <EndLabels drawn={drawn} form={form} layout={layout} />
        <g transform={`translate(0 ${riskTop})`}>
          <text x={0} y={-form.fontSize * 0.6} fill="var(--ink-soft)">
            packs at risk
          </text>
          {drawn.map(({ report, style, strong }, row) => (
            <AtRiskRow
              key={report.group}
              report={report}
              style={style}
              strong={strong}
              y={(row + 0.7) * rowHeight}
              layout={layout}
              nameWidth={squeezedTo(form, report.group)}
            />
          ))}
        </g>
      </g>
    </ChartPicture>
  );
}
