import { atRiskRow } from "@/lib/reliability/failure-curve";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import { grouped } from "@/lib/reliability/plain-share";
import type { SeriesProps } from "./survival-series";

interface AtRiskProps extends SeriesProps {
  readonly y: number;
}

/** How many packs each part of a curve rests on, under the marks of the axis. */
export function AtRiskRow({ report, style, strong, y, layout }: AtRiskProps) {
  const numbers = atRiskRow(report.curve, layout.months.map(daysAtMonths));
  return (
    <g transform={`translate(0 ${y})`}>
      <line x2={18} stroke={style.colour} strokeWidth={strong ? 2.75 : 1.5} strokeDasharray={style.dash} />
      <text x={23} dy="0.35em" fontWeight={strong ? 700 : 400}>
        {report.group}
      </text>
      {layout.months.map((months, i) => (
        <text key={months} x={layout.x(daysAtMonths(months))} dy="0.35em" textAnchor="middle">
          {grouped(numbers[i] ?? 0)}
        </text>
      ))}
    </g>
  );
}
