import { type Column, DataTable } from "@/app/_components/data-table";
import type { DeviationMap } from "@/lib/readings/deviation-map";
import { deviationSentence, type GroupExtreme, groupExtremes } from "@/lib/readings/deviation-summary";
import { sayElapsed } from "@/lib/readings/elapsed-words";
import { DeviationLegend } from "./deviation-legend";
import { classOf, fillOpacity } from "./deviation-scale";

const ROW_PX = 15;
const CELL = 10;

/** Cell by time: each row a group, each column a stretch of rows; the fill says how far, the hatching which way. */
export function DeviationFigure({ map }: { map: DeviationMap }) {
  const buckets = map.timeS.length;
  const extremes = groupExtremes(map);
  const columns: Column<GroupExtreme>[] = [
    { head: "Group", numeric: true, cell: ({ group }) => group },
    { head: "On average", numeric: true, cell: ({ meanMillivolt }) => signed(meanMillivolt) },
    { head: "Farthest row", numeric: true, cell: ({ farthestMillivolt }) => signed(farthestMillivolt) },
    { head: "in the stretch after", numeric: true, cell: ({ atS }) => (atS === null ? "–" : sayElapsed(atS)) },
  ];
  return (
    <figure className="card space-y-3 p-3">
      <p className="caption-print">Deviation of each group from the median group, mV</p>
      <div className="flex gap-1.5">
        <div aria-hidden className="w-6 shrink-0 text-right text-[11px] leading-none">
          {extremes.map(({ group }) => (
            <div key={group} className="flex items-center justify-end" style={{ height: ROW_PX }}>
              {group}
            </div>
          ))}
        </div>
        <svg
          role="img"
          aria-label="Deviation of each group over time. The same stands in the table below."
          viewBox={`0 0 ${buckets * CELL} ${map.groups.length * CELL}`}
          preserveAspectRatio="none"
          className="min-w-0 flex-1 border border-edge bg-raised"
          style={{ height: map.groups.length * ROW_PX }}
        >
          <Patterns />
          {map.groups.map(({ farthestMillivolt }, row) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: a group is its place
            <g key={row}>
              {runs(farthestMillivolt).map((run) => (
                <Run key={run.from} run={run} row={row} />
              ))}
            </g>
          ))}
        </svg>
        <div aria-hidden className="w-14 shrink-0 text-right text-[11px] leading-none">
          {extremes.map(({ group, farthestMillivolt }) => (
            <div key={group} className="flex items-center justify-end whitespace-nowrap" style={{ height: ROW_PX }}>
              {signed(farthestMillivolt)}
            </div>
          ))}
        </div>
      </div>
      <div aria-hidden className="mr-15.5 ml-7.5 flex justify-between text-xs">
        <span>{sayElapsed(map.timeS[0] ?? 0)}</span>
        <span>{sayElapsed(map.timeS.at(-1) ?? 0)}</span>
      </div>
      <DeviationLegend />
      <figcaption className="space-y-1 text-sm">
        <p>{deviationSentence(map)}</p>
        <p className="text-soft">
          Each field shows the row that stands farthest off among {map.rowsPerBucket}{" "}
          {map.rowsPerBucket === 1 ? "row" : "rows"}; the numbers on the right are the farthest of each group. Under
          load groups differ by their resistance, so look whether a row stays marked at rest.
        </p>
      </figcaption>
      <details>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          The map as a table
        </summary>
        <DataTable
          caption="Deviation of each group from the median group, mV"
          columns={columns}
          rows={extremes}
          rowKey={({ group }) => String(group)}
          whenEmpty="No group was logged."
        />
      </details>
    </figure>
  );
}

interface FieldRun {
  readonly from: number;
  readonly length: number;
  readonly size: number;
  readonly isLow: boolean;
  readonly isMissing: boolean;
}

/** Neighbouring fields that look alike are one shape: the page stays small. */
function runs(millivolt: readonly (number | null)[]): FieldRun[] {
  const found: FieldRun[] = [];
  for (const [at, value] of millivolt.entries()) {
    const field = { size: value === null ? 0 : classOf(value), isLow: (value ?? 0) < 0, isMissing: value === null };
    const last = found.at(-1);
    if (
      last !== undefined &&
      last.size === field.size &&
      last.isMissing === field.isMissing &&
      (last.isLow === field.isLow || field.size === 0)
    ) {
      found[found.length - 1] = { ...last, length: last.length + 1 };
    } else found.push({ from: at, length: 1, ...field });
  }
  return found.filter(({ size, isMissing }) => size > 0 || isMissing);
}

function Run({ run: { from, length, size, isLow, isMissing }, row }: { run: FieldRun; row: number }) {
  const place = { x: from * CELL, y: row * CELL, width: length * CELL, height: CELL };
  if (isMissing) return <rect {...place} fill="url(#field-missing)" />;
  return (
    <>
      <rect {...place} fill={isLow ? "var(--series-4)" : "var(--series-3)"} fillOpacity={fillOpacity[size]} />
      {isLow ? <rect {...place} fill="url(#field-low)" /> : null}
    </>
  );
}

/** Low is hatched, high is plain: the sign survives a print without colour. */
function Patterns() {
  return (
    <defs>
      <pattern id="field-low" width="6" height="5" patternUnits="userSpaceOnUse">
        <path d="M0 2.5H6" stroke="var(--paper-raised)" strokeWidth="1.4" />
      </pattern>
      <pattern id="field-missing" width="6" height="6" patternUnits="userSpaceOnUse">
        <path d="M0 6L6 0" stroke="var(--edge)" strokeWidth="1" />
      </pattern>
    </defs>
  );
}

function signed(millivolt: number | null): string {
  if (millivolt === null) return "–";
  return `${millivolt > 0 ? "+" : millivolt < 0 ? "−" : ""}${Math.abs(millivolt)}`;
}
