import { atRiskRow } from "@/lib/reliability/failure-curve";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import { grouped } from "@/lib/reliability/plain-share";
import { NAME_FROM } from "./survival-layout";
import type { SeriesProps } from "./survival-series";

interface AtRiskProps extends SeriesProps {
  readonly y: number;
  /** What the name is squeezed to; null where it has room. */
  readonly nameWidth: number | null;
}

/** How many packs each part of a curve rests on, under the marks of the axis. */
export function AtRiskRow({ report, style, strong, y, layout, nameWidth }: AtRiskProps) {
  const numbers = atRiskRow(report.curve, layout.months.map(daysAtMonths));
  return (
    <g transform={`translate(0 ${y})`}>
      <line x2={18} stroke={style.colour} strokeWidth={strong ? 2.75 : 1.5} strokeDasharray={style.dash} />
      <text
        x={NAME_FROM}
        dy="0.35em"
        fontWeight={strong ? 700 : 400}
        {...(nameWidth === null ? {} : { textLength: nameWidth, lengthAdjust: "spacingAndGlyphs" as const })}
      >
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
