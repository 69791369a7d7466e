import { writtenDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import type { BesideForecast } from "@/lib/reliability/beside-forecast";
import { sayForetold } from "@/lib/reliability/beside-sentences";
import type { Horizon } from "@/lib/reliability/forecast-horizon";
import { lentWords, returnsRefusalClause } from "@/lib/reliability/forecast-sentences";
import type { PackList, PackListFilter } from "@/lib/reliability/pack-lists";
import { grouped } from "@/lib/reliability/plain-share";
import { PacksLink } from "./packs/packs-link";
import { RevisionName } from "./revision-name";

interface BesideTableProps {
  readonly beside: readonly BesideForecast[];
  readonly horizons: readonly Horizon[];
  readonly waitedDays: number;
  readonly dataDate: string;
  /** Whether the reader may open the page of a revision. */
  readonly linked: boolean;
}

/** First returns to be expected whatever comes of them, and the failures were all returns that wait for too long failures. */
export function BesideTable({ beside, horizons, waitedDays, dataDate, linked }: BesideTableProps) {
  const otherCase = horizons.map(
    (horizon): Column<BesideForecast> => ({
      head: `Failures to come were those failures, ${horizonWords(horizon)}`,
      cell: ({ ifFailures }) => (
        <div className="min-w-48">
          {ifFailures === null ? "as above" : sayForetold(ifFailures, horizon)}
          {ifFailures === null ? null : <Lent words={lentWords(ifFailures.basis)} />}
        </div>
      ),
    }),
  );
  const columns: readonly Column<BesideForecast>[] = [
    { head: "Revision", cell: ({ group }) => <RevisionName code={group} linked={linked} /> },
    ...cameBackColumns(linked),
    ...horizons.map(
      (horizon): Column<BesideForecast> => ({
        head: `First returns, ${horizonWords(horizon)}`,
        cell: ({ returns }) => (
          <div className="min-w-48">
            {sayForetold(returns, horizon, returnsRefusalClause)}
            <Lent words={lentWords(returns.basis, "returns")} />
          </div>
        ),
      }),
    ),
    // Where nothing waits for so long there is no other case, and no column for it.
    ...(beside.every(({ longUndecided }) => longUndecided === 0)
      ? []
      : [undecidedColumn(waitedDays, linked), ...otherCase]),
  ];
  return (
    <DataTable
      entriesWhenNarrow
      caption={`Packs back for the first time, whatever comes of them, from ${writtenDay(dataDate)}, with 95 % limits`}
      columns={columns}
      rows={beside}
      rowKey={({ group }) => group}
      whenEmpty="No revision is on record."
    />
  );
}

function Lent({ words }: { readonly words: string }) {
  return words === "" ? null : <span className="block text-soft">{words}</span>;
}

function undecidedColumn(waitedDays: number, linked: boolean): Column<BesideForecast> {
  return {
    head: `Undecided for ${waitedDays} days or more`,
    numeric: true,
    cell: ({ group, longUndecided }) => opened(linked, group, "undecided", longUndecided, { settledDays: waitedDays }),
  };
}

/** What came so far: packs, and their returns, of which one pack may have several. */
function cameBackColumns(linked: boolean): Column<BesideForecast>[] {
  return [
    {
      head: "Packs back so far",
      numeric: true,
      cell: ({ group, cameBack }) => opened(linked, group, "returns", cameBack.packs),
    },
    {
      head: "In so many returns",
      numeric: true,
      cell: ({ group, cameBack }) => opened(linked, group, "each-return", cameBack.returns),
    },
  ];
}

function opened(linked: boolean, group: string, list: PackList, count: number, filter: PackListFilter = {}) {
  return linked ? <PacksLink by="revision" group={group} list={list} filter={filter} count={count} /> : grouped(count);
}

function horizonWords(horizon: Horizon): string {
  return horizon === "cover-end" ? "until the end of cover" : `next ${horizon} months`;
}
