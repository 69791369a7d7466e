import { area, curveStepAfter, line } from "d3-shape";
import type { GroupReport } from "@/lib/reliability/group-report";
import type { SeriesStyle } from "./series-style";
import { type CurveCorner, stepRuns } from "./step-runs";
import type { SurvivalLayout } from "./survival-layout";

export interface SeriesProps {
  readonly report: GroupReport;
  readonly style: SeriesStyle;
  readonly strong: boolean;
  readonly layout: SurvivalLayout;
}

/** One curve: strong with its band of limits, or thin; grey where no share is told. */
export function SurvivalSeries({ report, style, strong, layout }: SeriesProps) {
  const band = area<CurveCorner>()
    .curve(curveStepAfter)
    .x((corner) => layout.x(corner.ageDays))
    .y0((corner) => layout.y(corner.lower))
    .y1((corner) => layout.y(corner.upper));
  const steps = stepLine(layout);

  return stepRuns(report.points).map((run) => {
    const colour = run.grey ? "var(--ink-soft)" : style.colour;
    return (
      <g key={run.corners[0]?.ageDays} data-grey={run.grey} opacity={run.grey ? 0.6 : 1}>
        {strong && <path d={band(run.corners) ?? ""} fill={colour} opacity={0.16} />}
        <path
          d={steps(run.corners) ?? ""}
          fill="none"
          stroke={colour}
          strokeWidth={run.grey ? 1 : strong ? 2.75 : 1.5}
          strokeDasharray={style.dash}
        />
      </g>
    );
  });
}

interface ConfirmedCurveProps {
  readonly points: NonNullable<GroupReport["confirmedSoFar"]>;
  readonly colour: string;
  readonly layout: SurvivalLayout;
}

/** What is confirmed so far, under the curve that allows for the rest: thin and dotted, so that it does not rest on colour. */
export function ConfirmedCurve({ points, colour, layout }: ConfirmedCurveProps) {
  if (points.length === 0) return null;
  return (
    <path
      d={stepLine(layout)([...points]) ?? ""}
      fill="none"
      stroke={colour}
      strokeWidth={1.25}
      strokeDasharray="1.5 3.5"
      data-line="confirmed"
    />
  );
}

function stepLine(layout: SurvivalLayout) {
  return line<Pick<CurveCorner, "ageDays" | "probability">>()
    .curve(curveStepAfter)
    .x((corner) => layout.x(corner.ageDays))
    .y((corner) => layout.y(corner.probability));
}
