import { type Column, DataTable } from "@/app/_components/data-table";
import type { RevisionForecast } from "@/lib/data/failure-forecasts";
import { FORECAST_MONTHS, type ForecastMonths } from "@/lib/reliability/cover-forecast";
import { forecastRefusalClause, sayExpected } from "@/lib/reliability/forecast-sentences";
import type { ForecastTotal } from "@/lib/reliability/forecast-total";
import { grouped } from "@/lib/reliability/plain-share";
import { RevisionLink } from "../revision-link";

interface ForecastTableProps {
  readonly revisions: readonly RevisionForecast[];
  readonly totals: readonly { readonly months: ForecastMonths; readonly total: ForecastTotal | null }[];
  readonly dataDate: string;
}

type Row = RevisionForecast | { readonly group: null; readonly totals: ForecastTableProps["totals"] };

const columns: readonly Column<Row>[] = [
  {
    head: "Revision",
    cell: (row) =>
      row.group === null ? "All that can be told" : <RevisionLink code={row.group}>{row.group}</RevisionLink>,
  },
  {
    head: "In use under cover",
    numeric: true,
    cell: (row) => (row.group === null ? "" : grouped(row.packsUnderCover)),
  },
  { head: "Failures it rests on", numeric: true, cell: (row) => (row.group === null ? "" : grouped(row.failures)) },
  ...FORECAST_MONTHS.map(
    (months): Column<Row> => ({
      head: `Next ${months} months`,
      // Wide enough that a telephone shows few lines and scrolls within the table.
      cell: (row) => (
        <div className="min-w-48">
          <At row={row} months={months} />
        </div>
      ),
    }),
  ),
];

/** Every revision at every horizon, with limits, or why nothing can be told. */
export function ForecastTable({ revisions, totals, dataDate }: ForecastTableProps) {
  return (
    <DataTable
      caption={`Confirmed failures to be expected within cover, from ${dataDate}, with 95 % limits`}
      columns={columns}
      rows={[...revisions, { group: null, totals }]}
      rowKey={({ group }) => group ?? "all"}
      whenEmpty="No revision is on record."
    />
  );
}

function At({ row, months }: { readonly row: Row; readonly months: ForecastMonths }) {
  if (row.group === null) {
    const total = row.totals.find((one) => one.months === months)?.total ?? null;
    if (total === null) return "cannot tell yet";
    return (
      <>
        <Told {...total} />
        {total.refused === 0 ? null : (
          <span className="block text-soft">
            without {grouped(total.packsLeftOut)} packs of {total.refused}{" "}
            {total.refused === 1 ? "revision" : "revisions"} of which nothing can be told at this horizon
          </span>
        )}
      </>
    );
  }
  const forecast = row.forecasts.find((one) => one.months === months);
  if (forecast === undefined) return "cannot tell yet";
  if (forecast.kind === "refused") return <span>cannot tell yet: {forecastRefusalClause(forecast.reason)}</span>;
  return (
    <>
      <Told {...forecast} />
      {forecast.beyondObserved < 0.01 ? null : (
        <span className="block text-soft">
          {Math.round(forecast.beyondObserved * 100)} in 100 of it at ages not seen yet
        </span>
      )}
    </>
  );
}

function Told({
  expected,
  lower,
  upper,
  unreported,
}: Pick<ForecastTotal, "expected" | "lower" | "upper" | "unreported">) {
  return (
    <>
      <strong>{sayExpected(expected)}</strong>, between {grouped(lower)} and {grouped(upper)}
      {unreported < 0.05 ? null : (
        <span className="block text-soft">{sayExpected(unreported)} of it on the way to us</span>
      )}
    </>
  );
}
