import type { GroupReport } from "@/lib/reliability/group-report";
import { type Label, placeLabels } from "./place-labels";
import type { ChartForm, SurvivalLayout } from "./survival-layout";

interface EndLabel extends Label {
  readonly strong: boolean;
}

interface EndLabelsProps {
  readonly drawn: readonly { readonly report: GroupReport; readonly strong: boolean }[];
  readonly form: ChartForm;
  readonly layout: SurvivalLayout;
}

/** Each curve carries its name where it ends, so that no key has to be matched by colour. */
export function EndLabels({ drawn, form, layout }: EndLabelsProps) {
  const labels = drawn.flatMap(({ report, strong }): EndLabel[] => {
    const end = report.points.filter((point) => point.ageDays <= layout.lastDays).at(-1);
    if (end === undefined) return [];
    const ageDays = Math.min(report.points.at(-1)?.ageDays ?? 0, layout.lastDays);
    const y = Math.max(0, layout.y(end.probability));
    return [{ text: report.group, x: layout.x(ageDays) + 4, y, strong }];
  });
  return placeLabels(labels, form.fontSize).map((label) => (
    <text
      key={label.text}
      x={label.x}
      y={label.y}
      dy="0.35em"
      fontWeight={label.strong ? 700 : 400}
      stroke="var(--paper-raised, var(--paper))"
      strokeWidth={3}
      paintOrder="stroke"
    >
      {label.text}
    </text>
  ));
}
