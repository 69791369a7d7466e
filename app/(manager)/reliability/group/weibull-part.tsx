import type { ReactNode } from "react";
import { WeibullPaper } from "@/app/_components/charts/weibull-paper";
import { type Column, DataTable } from "@/app/_components/data-table";
import type { CompareBy } from "@/lib/reliability/compare-by";
import type { GroupLife } from "@/lib/reliability/group-life";
import type { PackList } from "@/lib/reliability/pack-lists";
import { grouped, inHundred } from "@/lib/reliability/plain-share";
import { type WeibullPlot, type WeibullPoint, weibullPlotSentence } from "@/lib/reliability/weibull-plot";
import { PacksLink } from "../packs/packs-link";

type Opened = (list: PackList, ageDays: number, count: number) => ReactNode;

const columnsFor = (opened: Opened): readonly Column<WeibullPoint>[] => [
  { head: "Age in days", numeric: true, cell: ({ ageDays }) => grouped(ageDays) },
  { head: "Failures", numeric: true, cell: ({ failures, ageDays }) => opened("failures", ageDays, failures) },
  { head: "Packs at risk", numeric: true, cell: ({ atRisk, ageDays }) => opened("at-risk", ageDays, atRisk) },
  { head: "Drawn at", numeric: true, cell: ({ plotted }) => inHundred(plotted) },
  { head: "Line at this age", numeric: true, cell: ({ fitted }) => inHundred(fitted) },
];

interface WeibullPartProps {
  readonly by: CompareBy;
  readonly group: string;
  readonly life: Pick<GroupLife, "plot" | "ifFailures" | "settled">;
}

/** Whether one law holds for all failures of the group: the picture to judge it by, or why there is none. */
export function WeibullPart({ by, group, life: { plot, ifFailures, settled } }: WeibullPartProps) {
  const asKnown = settled.days === 0 ? {} : { settledDays: settled.days };
  const opened: Opened = (list, ageDays, count) => {
    const at = list === "failures" ? { fromDays: ageDays, byDays: ageDays } : { byDays: ageDays };
    return <PacksLink by={by} group={group} list={list} filter={{ ...at, ...asKnown }} count={count} />;
  };
  return (
    <>
      <OnPaper id="weibull" plot={plot} of={`Failures of ${group}`} opened={opened} />
      {ifFailures === null ? null : (
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            The same, were its returns that have been undecided for too long failures
          </summary>
          <OnPaper
            id="weibull-taken"
            plot={ifFailures.plot}
            of={`Failures of ${group} with those returns`}
            opened={(_list, _ageDays, count) => grouped(count)}
          />
        </details>
      )}
    </>
  );
}

interface OnPaperProps {
  readonly id: string;
  readonly plot: WeibullPlot;
  readonly of: string;
  readonly opened: Opened;
}

function OnPaper({ id, plot, of, opened }: OnPaperProps) {
  const sentence = weibullPlotSentence(plot);
  if (plot.kind === "refused") return <p className="max-w-4xl">{sentence}</p>;
  return (
    <>
      <WeibullPaper id={id} title={`${of} on Weibull paper`} sentence={sentence} plot={plot} />
      <details>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          All {plot.points.length} points on the paper
        </summary>
        <DataTable
          caption={`${of}: each halfway up its step of the curve, and the line there`}
          columns={columnsFor(opened)}
          rows={plot.points}
          rowKey={({ ageDays }) => String(ageDays)}
          whenEmpty="No failure has been confirmed."
        />
      </details>
    </>
  );
}
