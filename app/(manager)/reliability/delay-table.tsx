import { type Column, DataTable } from "@/app/_components/data-table";
import { DownloadLink } from "@/app/_components/download-link";
import { compareByWords } from "@/lib/reliability/compare-by";
import { sayDays } from "@/lib/reliability/group-lag-sentences";
import type { GroupLags, OwnDelay } from "@/lib/reliability/group-lags";
import { GroupLink } from "./group-link";
import { PacksLink } from "./packs/packs-link";

type Row = OwnDelay & { readonly group: string };

/** The delays that groups are weighed by where each has its own; nothing where one stands for all. */
export function DelayTable({ delays }: { readonly delays: GroupLags | null }) {
  if (delays === null || delays.own.size === 0) return null;
  const { name, many } = compareByWords[delays.by];
  const columns: readonly Column<Row>[] = [
    {
      head: name,
      cell: ({ group }) => (
        <GroupLink by={delays.by} group={group}>
          {group}
        </GroupLink>
      ),
    },
    { head: "Half confirmed within", numeric: true, cell: ({ medianDays }) => sayDays(medianDays) },
    { head: "95 of 100 within", numeric: true, cell: ({ mostDays }) => sayDays(mostDays) },
    {
      head: "Confirmed failures it rests on",
      numeric: true,
      cell: ({ group, returns, leftOutFromDays }) => (
        <PacksLink
          by={delays.by}
          group={group}
          list="each-confirmed"
          filter={{ confirmedBeforeDays: leftOutFromDays }}
          count={returns}
        />
      ),
    },
    {
      head: "Its own",
      cell: ({ followedDays }) =>
        followedDays === null ? "throughout" : `up to ${sayDays(followedDays)}, beyond that of all`,
    },
  ];
  return (
    <details>
      <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
        How long it takes until failures are confirmed, {many} one by one
      </summary>
      <DataTable
        entriesWhenNarrow
        caption={`Days from told to confirmed, of ${many} that are given their own`}
        columns={columns}
        rows={[...delays.own].map(([group, delay]) => ({ ...delay, group }))}
        rowKey={({ group }) => group}
        whenEmpty="One delay stands for all."
      />
      <p>
        <DownloadLink href={`/reliability/export?${new URLSearchParams({ by: delays.by, table: "delays" })}`}>
          These delays as a table file (CSV)
        </DownloadLink>
      </p>
    </details>
  );
}
