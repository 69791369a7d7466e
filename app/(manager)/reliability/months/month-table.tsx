import { writtenDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import type { GroupAsked } from "@/lib/data/reliability/month-triangle";
import type { MonthCell, MonthTriangle, SaleMonthRow } from "@/lib/reliability/month-triangle";
import { grouped, sayP } from "@/lib/reliability/plain-share";
import { ratioBetween, sayRatio } from "@/lib/reliability/worse-sentences";
import type { HazardRatio } from "@/lib/stats/hazard-ratio";
import { monthCellHref } from "./month-cell-address";

interface MonthTableProps {
  readonly asked: GroupAsked;
  readonly triangle: MonthTriangle;
  readonly dataDate: string;
}

/** Where less than half a failure was to be expected, none and one are equally unsurprising. Engineering default, no authority. */
const FEWEST_EXPECTED = 0.5;

/** The numbers of a month of sale, which open to its packs. */
function rowColumnsOf(asked: GroupAsked, settledDays: number): readonly Column<SaleMonthRow>[] {
  return [
    { head: "Sold in", cell: ({ soldIn }) => <span className="whitespace-nowrap">{soldIn}</span> },
    {
      head: "Packs in use",
      numeric: true,
      cell: ({ soldIn, packs }) => <OpenedCount count={packs} href={monthCellHref({ ...asked, soldIn })} />,
    },
    {
      head: "Failures",
      numeric: true,
      cell: ({ soldIn, failures }) => (
        <OpenedCount count={failures} href={monthCellHref({ ...asked, soldIn, only: "failures" })} />
      ),
    },
    {
      head: "Of these held against the others",
      numeric: true,
      cell: ({ soldIn, settledFailures, comparedMonths }) => {
        if (comparedMonths === null) return grouped(settledFailures);
        const { from: month, upTo: upToMonth } = comparedMonths;
        const settled = settledDays === 0 ? {} : { settledDays };
        const href = monthCellHref({ ...asked, soldIn, month, upToMonth, only: "failures", ...settled });
        return <OpenedCount count={settledFailures} href={href} />;
      },
    },
    ...againstColumns,
  ];
}

function OpenedCount({ count, href }: { readonly count: number; readonly href: string }) {
  if (count === 0) return grouped(count);
  return (
    <a
      href={href}
      className="inline-flex min-h-11 min-w-11 items-center justify-end text-accent underline underline-offset-4"
    >
      {grouped(count)}
    </a>
  );
}

const againstColumns: readonly Column<SaleMonthRow>[] = [
  { head: "To be expected of those", numeric: true, cell: ({ expected }) => expected.toFixed(1) },
  {
    head: "Times as often as the others, 95 % limits",
    numeric: true,
    cell: ({ expected, against }) =>
      against === null || expected < FEWEST_EXPECTED ? "cannot tell yet" : timesWords(against.times),
  },
  {
    head: "p, adjusted for all months",
    numeric: true,
    cell: ({ against }) => (against === null ? "" : sayP(against.adjustedP)),
  },
];

function timesWords({ ratio, lower, upper }: HazardRatio): string {
  const times = ratio === null ? "only it failed" : sayRatio(ratio);
  return `${times} (${ratioBetween({ lower, upper })})`;
}

/** Each month of sale against the others, and under each its cells with limits, which open to their packs. */
export function MonthTable({ asked, triangle, dataDate }: MonthTableProps) {
  const columns: readonly Column<MonthCell>[] = [
    {
      head: "Month in service",
      cell: ({ soldIn, month }) => (
        <a
          href={monthCellHref({ ...asked, soldIn, month })}
          className="inline-flex min-h-11 min-w-11 items-center text-accent underline underline-offset-4"
        >
          {month}
          <span className="sr-only">: packs sold in {soldIn}</span>
        </a>
      ),
    },
    {
      head: "Failures",
      numeric: true,
      cell: ({ soldIn, month, failures }) => (
        <OpenedCount count={failures} href={monthCellHref({ ...asked, soldIn, month, only: "failures" })} />
      ),
    },
    {
      head: "Packs at risk",
      numeric: true,
      cell: ({ soldIn, month, atRisk }) => (
        <OpenedCount count={atRisk} href={monthCellHref({ ...asked, soldIn, month })} />
      ),
    },
    { head: "In 1,000 pack-months", numeric: true, cell: ({ rate }) => rate.rate.toFixed(1) },
    {
      head: "95 % limits",
      numeric: true,
      cell: ({ rate }) => `${rate.lower.toFixed(1)} to ${rate.upper.toFixed(1)}`,
    },
    { head: "Settled", cell: ({ isComplete }) => (isComplete ? "yes" : "not yet") },
  ];
  return (
    <>
      <DataTable
        entriesWhenNarrow
        caption={`Months of sale, each against the others at equal age, up to ${writtenDay(dataDate)}`}
        columns={rowColumnsOf(asked, triangle.settledDays)}
        rows={triangle.rows}
        rowKey={({ soldIn }) => soldIn}
        whenEmpty="No pack has been sold yet."
      />
      <section aria-labelledby="cells-title" className="space-y-2">
        <h2 id="cells-title">Every cell, with its packs</h2>
        {triangle.rows.map(({ soldIn, cells }) => (
          <details key={soldIn}>
            <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
              Sold in {soldIn}
            </summary>
            <DataTable
              entriesWhenNarrow
              caption={`Packs sold in ${soldIn}, by month in service`}
              columns={columns}
              rows={cells}
              rowKey={({ month }) => String(month)}
              whenEmpty="No pack of this month has been in use yet."
            />
          </details>
        ))}
      </section>
    </>
  );
}
