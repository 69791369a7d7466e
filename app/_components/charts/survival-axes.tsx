import { daysAtMonths } from "@/lib/reliability/months-in-service";
import type { ChartForm, SurvivalLayout } from "./survival-layout";

export function SurvivalAxes({ form, layout }: { form: ChartForm; layout: SurvivalLayout }) {
  const right = form.width - form.right;
  return (
    <g>
      <text x={0} y={-12} fill="var(--ink-soft)">
        failed, in 100 packs
      </text>
      {layout.yTicks.map((tick) => (
        <g key={tick}>
          <line x1={form.left} x2={right} y1={layout.y(tick)} y2={layout.y(tick)} stroke="var(--rule)" />
          <text x={form.left - 6} y={layout.y(tick)} dy="0.35em" textAnchor="end">
            {percentTick(tick)}
          </text>
        </g>
      ))}
      <line x1={form.left} x2={right} y1={form.plotHeight} y2={form.plotHeight} stroke="var(--ink)" />
      {layout.months.map((months) => (
        <g key={months} transform={`translate(${layout.x(daysAtMonths(months))} ${form.plotHeight})`}>
          <line y2={5} stroke="var(--ink)" />
          <text y={form.fontSize + 7} textAnchor="middle">
            {months}
          </text>
        </g>
      ))}
      <text x={right} y={form.plotHeight + form.fontSize * 2 + 11} textAnchor="end" fill="var(--ink-soft)">
        months in use
      </text>
    </g>
  );
}

/** Ticks are round by choice of scale; this only removes what binary fractions leave behind. */
function percentTick(share: number): string {
  return String(Number((share * 100).toPrecision(4)));
}
