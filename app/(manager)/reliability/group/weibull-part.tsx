import { WeibullPaper } from "@/app/_components/charts/weibull-paper";
import { type Column, DataTable } from "@/app/_components/data-table";
import type { GroupLife } from "@/lib/reliability/group-life";
import { grouped, inHundred } from "@/lib/reliability/plain-share";
import { type WeibullPlot, type WeibullPoint, weibullPlotSentence } from "@/lib/reliability/weibull-plot";

const columns: readonly Column<WeibullPoint>[] = [
  { head: "Age in days", numeric: true, cell: ({ ageDays }) => grouped(ageDays) },
  { head: "Failures", numeric: true, cell: ({ failures }) => grouped(failures) },
  { head: "Packs at risk", numeric: true, cell: ({ atRisk }) => grouped(atRisk) },
  { head: "Drawn at", numeric: true, cell: ({ plotted }) => inHundred(plotted) },
  { head: "Line at this age", numeric: true, cell: ({ fitted }) => inHundred(fitted) },
];

interface WeibullPartProps {
  readonly group: string;
  readonly life: Pick<GroupLife, "plot" | "ifFailures">;
}

/** Whether one law holds for all failures of the group: the picture to judge it by, or why there is none. */
export function WeibullPart({ group, life: { plot, ifFailures } }: WeibullPartProps) {
  return (
    <>
      <OnPaper id="weibull" plot={plot} of={`Failures of ${group}`} />
      {ifFailures === null ? null : (
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            The same, were its returns that have been undecided for too long failures
          </summary>
          <OnPaper id="weibull-taken" plot={ifFailures.plot} of={`Failures of ${group} with those returns`} />
        </details>
      )}
    </>
  );
}

function OnPaper({ id, plot, of }: { readonly id: string; readonly plot: WeibullPlot; readonly of: string }) {
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
          columns={columns}
          rows={plot.points}
          rowKey={({ ageDays }) => String(ageDays)}
          whenEmpty="No failure has been confirmed."
        />
      </details>
    </>
  );
}
