import { writtenDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { sayCost } from "@/lib/reliability/cost-sentences";
import { forecastRefusalClause, lentWords, sayBeyond, sayExpected } from "@/lib/reliability/forecast-sentences";
import { ALL_TOLD, type ForecastTotal } from "@/lib/reliability/forecast-total";
import { grouped, packsInWords } from "@/lib/reliability/plain-share";
import type { CostTotal, PricedForecast } from "@/lib/reliability/priced-forecast";
import { sayHeld } from "@/lib/reliability/reserve-sentences";
import { PacksLink } from "../packs/packs-link";
import { RevisionName } from "../revision-name";

interface ReserveTableProps {
  readonly revisions: readonly PricedForecast[];
  readonly total: ForecastTotal | null;
  readonly cost: CostTotal | null;
  readonly dataDate: string;
  readonly linked: boolean;
}

type Row =
  | PricedForecast
  | { readonly group: null; readonly total: ForecastTotal | null; readonly cost: CostTotal | null };

/** Failures and cost still to come per revision, and apart from them the time at ages nobody has seen. */
export function ReserveTable({ revisions, total, cost, dataDate, linked }: ReserveTableProps) {
  const columns: readonly Column<Row>[] = [
    {
      head: "Revision",
      cell: (row) => (row.group === null ? ALL_TOLD : <RevisionName code={row.group} linked={linked} />),
    },
    {
      head: "In use under cover",
      numeric: true,
      cell: (row) => (row.group === null ? "" : underCover(row.group, row.packsUnderCover, linked)),
    },
    {
      head: "Of its cover ahead in the number",
      numeric: true,
      cell: (row) => (row.group === null ? "" : sayHeld(row)),
    },
    { head: "Failures still to come", cell: (row) => <div className="min-w-48">{countOf(row)}</div> },
    { head: "Their cost", cell: (row) => <div className="min-w-56">{costOf(row)}</div> },
    { head: "Apart: at ages not settled yet", cell: beyondCell },
  ];
  return (
    <DataTable
      entriesWhenNarrow
      caption={`Confirmed failures still to come of the packs sold by ${writtenDay(dataDate)}, until their cover ends, with 95 % limits`}
      columns={columns}
      rows={revisions.length === 0 ? [] : [...revisions, { group: null, total, cost }]}
      rowKey={({ group }) => group ?? "all"}
      whenEmpty="No revision is on record."
    />
  );
}

function underCover(group: string, count: number, linked: boolean) {
  return linked ? <PacksLink by="revision" group={group} list="running" count={count} /> : grouped(count);
}

function countOf(row: Row) {
  if (row.group !== null && row.reserve.kind === "refused")
    return `cannot tell yet: ${forecastRefusalClause(row.reserve.reason)}`;
  const count = row.group === null ? row.total : row.reserve.kind === "reserve" ? row.reserve : null;
  if (count === null) return "cannot tell yet";
  return (
    <>
      <strong>{sayExpected(count.expected)}</strong>, between {grouped(count.lower)} and {grouped(count.upper)}
      {row.group === null || lentWords(row.basis) === "" ? null : (
        <span className="block text-soft">{lentWords(row.basis)}</span>
      )}
      {count.unreported < 0.05 ? null : (
        <span className="block text-soft">{sayExpected(count.unreported)} of it on the way to us</span>
      )}
    </>
  );
}

function costOf(row: Row) {
  const cost = row.group === null ? row.cost : row.costs["cover-end"];
  if (cost === null) return "cannot tell yet";
  const unpriced = row.group === null ? (row.cost?.unpriced ?? []) : [];
  return (
    <>
      {sayCost(cost)}
      {unpriced.length === 0 ? null : <span className="block text-soft">without {unpriced.join(", ")}</span>}
    </>
  );
}

/** Nothing at all where nothing is to be told, so that a telephone leaves its heading out too. */
function beyondCell(row: Row) {
  const said = beyondOf(row);
  return said === "" ? "" : <div className="min-w-48">{said}</div>;
}

function beyondOf(row: Row): string {
  if (row.group === null) return "";
  if (row.reserve.kind === "refused") return "";
  const { beyond, packsWithoutEnd } = row.reserve;
  const without = packsWithoutEnd === 0 ? "" : ` ${packsInWords(packsWithoutEnd)} without a known end of cover.`;
  return `${sayBeyond(beyond)}${without}`;
}
