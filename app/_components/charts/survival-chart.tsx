import { curveCaption } from "@/lib/reliability/curve-caption";
import type { GroupReport } from "@/lib/reliability/group-report";
import { ChartFigure } from "./chart-figure";
import { compactForm, roomyForm } from "./survival-layout";
import { SurvivalPlot } from "./survival-plot";

interface SurvivalChartProps {
  /** Unique on the page: the titles inside the pictures are found by it. */
  readonly id: string;
  readonly title: string;
  /** Keep the list and its order the same from page to page: colour and dash go by position. */
  readonly reports: readonly GroupReport[];
  /** Revision codes drawn strong and with their band of limits; two or three at most can be read. */
  readonly highlighted: readonly string[];
}

/**
 * Which share of packs has failed by which age, one stepped curve per revision, all from first use: the estimates and limits of the
 * SurvivalTable that stands beside it, at every age. Nothing runs in the browser.
 */
export function SurvivalChart({ id, title, reports, highlighted }: SurvivalChartProps) {
  const drawable = reports.filter((report) => report.points.length > 0);
  const description = drawable
    .filter((report) => highlighted.length === 0 || highlighted.includes(report.group))
    .map((report) => report.sentence)
    .join(" ");
  if (drawable.length === 0)
    return <p className="text-soft">No pack has been in use yet, so there is nothing to draw.</p>;
  const plot = { title, description, reports, highlighted };
  return (
    <ChartFigure
      compact={<SurvivalPlot {...plot} id={`${id}-compact`} form={compactForm} />}
      roomy={<SurvivalPlot {...plot} id={`${id}-roomy`} form={roomyForm} />}
      caption={curveCaption(drawable.filter(({ group }) => highlighted.includes(group)))}
    />
  );
}
