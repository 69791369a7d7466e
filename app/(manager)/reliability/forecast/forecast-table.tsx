import { writtenDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { sayCost, sayMeanCost } from "@/lib/reliability/cost-sentences";
import { FORECAST_MONTHS, type ForecastMonths } from "@/lib/reliability/cover-forecast";
import {
  forecastRefusalWords,
  LEAST_UNREPORTED_TOLD,
  leftOutReason,
  lentWords,
  sayBeyond,
  sayExpected,
  sayGroups,
} from "@/lib/reliability/forecast-sentences";
import { ALL_TOLD, type ForecastTotal } from "@/lib/reliability/forecast-total";
import type { PackList, PackListFilter } from "@/lib/reliability/pack-lists";
import { grouped } from "@/lib/reliability/plain-share";
import type { CostTotal, PricedForecast } from "@/lib/reliability/priced-forecast";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { PacksLink } from "../packs/packs-link";
import { RevisionName } from "../revision-name";

export interface HorizonTotal {
  readonly months: ForecastMonths;
  readonly total: ForecastTotal | null;
  readonly cost: CostTotal | null;
}

interface ForecastTableProps {
  readonly revisions: readonly PricedForecast[];
  readonly totals: readonly HorizonTotal[];
  readonly dataDate: CalendarDate;
  /** Failures told later than so many days before the data date are not in the law. */
  readonly lawSettledDays: number;
  /** Whether the reader may open the page of a revision. */
  readonly linked: boolean;
}

type Row = PricedForecast | { readonly group: null; readonly totals: readonly HorizonTotal[] };

/** Every revision at every horizon, failures and cost with limits, or why nothing can be told. */
export function ForecastTable({ revisions, totals, dataDate, lawSettledDays, linked }: ForecastTableProps) {
  return (
    <DataTable
      entriesWhenNarrow
      caption={`Confirmed failures to be expected within cover and what they will cost, from ${writtenDay(dataDate)}, with 95 % limits`}
      columns={columnsFor(linked, lawSettledDays, dataDate)}
      rows={revisions.length === 0 ? [] : [...revisions, { group: null, totals }]}
      rowKey={({ group }) => group ?? "all"}
      whenEmpty="No revision is on record."
    />
  );
}

function columnsFor(linked: boolean, lawSettledDays: number, dataDate: CalendarDate): readonly Column<Row>[] {
  const opened = (group: string, list: PackList, count: number, filter: PackListFilter = {}) =>
    linked ? <PacksLink by="revision" group={group} list={list} filter={filter} count={count} /> : grouped(count);
  const ofTheLaw = lawSettledDays === 0 ? {} : { settledDays: lawSettledDays };
  return [
    {
      head: "Revision",
      cell: (row) => (row.group === null ? ALL_TOLD : <RevisionName code={row.group} linked={linked} />),
    },
    {
      head: "In use under cover",
      numeric: true,
      cell: (row) => (row.group === null ? "" : opened(row.group, "running", row.packsUnderCover)),
    },
    {
      head: "Failures it rests on",
      numeric: true,
      cell: (row) =>
        row.group === null ? (
          ""
        ) : (
          <>
            {opened(row.group, "failures", row.failures, ofTheLaw)}
            <Lent basis={row.basis} />
          </>
        ),
    },
    {
      head: "Cost of one failure",
      cell: (row) => (row.group === null ? "" : <div className="min-w-48">{meanOf(row)}</div>),
    },
    ...FORECAST_MONTHS.map(
      (months): Column<Row> => ({
        head: `Next ${months} months`,
        // Wide enough that a telephone shows few lines and scrolls within the table.
        cell: (row) => (
          <div className="min-w-56">
            <At row={row} months={months} dataDate={dataDate} />
          </div>
        ),
      }),
    ),
  ];
}

/** What a law rests on beside its own failures. */
function Lent({ basis }: Pick<PricedForecast, "basis">) {
  const words = lentWords(basis);
  return words === "" ? null : <span className="block whitespace-normal text-soft sm:ml-auto sm:w-44">{words}</span>;
}

function meanOf({ cost }: PricedForecast): string {
  return cost.kind === "cost" ? sayMeanCost(cost) : "cannot tell yet";
}

interface AtProps {
  readonly row: Row;
  readonly months: ForecastMonths;
  readonly dataDate: CalendarDate;
}

function At({ row, months, dataDate }: AtProps) {
  if (row.group === null) return <AllAt at={row.totals.find((one) => one.months === months)} />;
  const forecast = row.forecasts.find((one) => one.months === months);
  if (forecast === undefined) return "cannot tell yet";
  if (forecast.kind === "refused") return <span>cannot tell yet: {forecastRefusalWords(forecast, dataDate)}</span>;
  const cost = row.costs[months];
  return (
    <>
      <Told {...forecast} />
      <span className="block">{cost === null ? "cost: cannot tell yet" : sayCost(cost)}</span>
      {forecast.beyond.packs === 0 ? null : (
        <span className="block text-soft">at ages not settled yet: {sayBeyond(forecast.beyond)}</span>
      )}
    </>
  );
}

function AllAt({ at }: { readonly at: HorizonTotal | undefined }) {
  if (at === undefined || at.total === null) return "cannot tell yet";
  const { total, cost } = at;
  return (
    <>
      <Told {...total} />
      <span className="block">{cost === null ? "cost: cannot tell yet" : sayCost(cost)}</span>
      {cost === null || cost.unpriced.length === 0 ? null : (
        <span className="block text-soft">cost without {cost.unpriced.join(", ")}</span>
      )}
      {total.leftOut.length === 0 ? null : (
        <span className="block text-soft">
          without {grouped(total.packsLeftOut)} packs of {sayGroups(total.leftOut)}: {leftOutReason(total.leftOut)}
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
      {unreported < LEAST_UNREPORTED_TOLD ? null : (
        <span className="block text-soft">{sayExpected(unreported)} of it on the way to us</span>
      )}
    </>
  );
}
