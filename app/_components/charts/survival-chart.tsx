import type { GroupReport } from "@/lib/reliability/group-report";
import { ChartFigure } from "./chart-figure";
import type { CurveCorner } from "./step-runs";
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
  /** Curves with late reports allowed for, by group, drawn dotted over those that are highlighted. */
  readonly corrected?: ReadonlyMap<string, readonly CurveCorner[]>;
}

/**
 * Which share of packs has failed by which age, one stepped curve per revision, all from first use. Grey where fewer
 * than 20 packs are at risk. Show it with a SurvivalTable beside it. Nothing runs in the browser.
 */
export function SurvivalChart({ id, title, reports, highlighted, corrected = new Map() }: SurvivalChartProps) {
  const drawable = reports.filter((report) => report.points.length > 0);
  const description = drawable
    .filter((report) => highlighted.length === 0 || highlighted.includes(report.group))
    .map((report) => report.sentence)
    .join(" ");
  if (drawable.length === 0)
    return <p className="text-soft">No pack has been in use yet, so there is nothing to draw.</p>;
  const plot = { title, description, reports, highlighted, corrected };
  return (
    <ChartFigure
      compact={<SurvivalPlot {...plot} id={`${id}-compact`} form={compactForm} />}
      roomy={<SurvivalPlot {...plot} id={`${id}-roomy`} form={roomyForm} />}
      caption={
        <>
          Share of packs with a confirmed failure within cover, by months since sale.{" "}
          {highlighted.length > 0 && "The shaded band holds the true share with 95 % confidence. "}
          Grey: fewer than 20 packs at risk, too few to rely on.
          {highlighted.some((group) => (corrected.get(group)?.length ?? 0) > 0) &&
            " Dotted: the same curve with the failures that are on their way to us or undecided allowed for; the other lines are of what is known."}
        </>
      }
    />
  );
}
