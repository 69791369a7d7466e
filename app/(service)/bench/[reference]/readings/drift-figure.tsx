import { type Column, DataTable } from "@/app/_components/data-table";
import type { DriftPicture } from "@/lib/diagnosis/drift-picture";
import { driftDots, driftSentence } from "@/lib/diagnosis/drift-summary";
import type { GroupDot } from "@/lib/diagnosis/group-dot";
import { CannotJudge } from "./cannot-judge";
import { DotPlot } from "./dot-plot";
import { DriftLines } from "./drift-lines";

const columns: readonly Column<GroupDot>[] = [
  { head: "Group", numeric: true, cell: ({ group }) => group },
  { head: "mV per day", numeric: true, cell: ({ value }) => signed(value) },
  {
    head: "Limits, 95 in 100",
    numeric: true,
    cell: ({ limits }) => (limits === null ? "not known" : `${signed(limits[0])} to ${signed(limits[1])}`),
  },
];

/** How each group drifts against the median group while the pack rests: the points, the robust slope, its limits. */
export function DriftFigure({ drift }: { drift: DriftPicture }) {
  if (drift.outcome === "cannot") return <CannotJudge what="Self-discharge" because={drift.because} />;
  const dots = driftDots(drift);
  return (
    <figure className="card space-y-4 p-3">
      <DriftLines drift={drift} dots={dots} />
      <div>
        <p className="caption-print mb-2">Robust slope of each group, mV per day</p>
        <DotPlot
          label="Slope of each group at rest in millivolt per day. The same stands in the table below."
          dots={dots}
          lines={[
            {
              at: -drift.limitMillivoltPerDay,
              words: `from −${drift.limitMillivoltPerDay} mV per day a group is said to lose charge by itself`,
            },
          ]}
          fromZero
          besideWords={null}
          valueWords="median of the slopes through all pairs of points"
        />
      </div>
      <figcaption className="text-sm">
        <p>{driftSentence(drift)}</p>
      </figcaption>
      <details>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          The slopes as a table
        </summary>
        <DataTable
          caption="Drift of each group against the median group at rest, mV per day"
          columns={columns}
          rows={dots}
          rowKey={({ group }) => String(group)}
          whenEmpty="No slope could be drawn."
        />
      </details>
    </figure>
  );
}

function signed(value: number): string {
  return `${value < 0 ? "−" : ""}${Math.abs(value).toFixed(2)}`;
}
