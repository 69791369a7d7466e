import { type Column, DataTable } from "@/app/_components/data-table";
import { Stamp } from "@/app/_components/status-line";
import { compareByWords } from "@/lib/reliability/compare-by";
import { WATCH_DAYS, type WatchState } from "@/lib/reliability/early-signals";
import type { PackList, PackListFilter } from "@/lib/reliability/pack-lists";
import { grouped } from "@/lib/reliability/plain-share";
import { GroupLink } from "../group-link";
import { PacksLink } from "../packs/packs-link";

/** Groups watched and how near each is to a signal; every count opens to the packs that it counts. */
export function SignalTable({ states }: { readonly states: readonly WatchState[] }) {
  return (
    <DataTable
      entriesWhenNarrow
      caption="Nearest to a signal first"
      columns={columns}
      rows={states}
      rowKey={({ by, group, stratum }) => `${by} ${group} ${stratum}`}
      whenEmpty="No group can be watched yet."
    />
  );
}

/** A signal counts what happened in the first year in use, of packs of one model. */
export function countedBy({ stratum }: WatchState): PackListFilter {
  return { model: stratum, byDays: WATCH_DAYS };
}

function opened({ by, group }: WatchState, list: PackList, count: number, filter: PackListFilter) {
  return <PacksLink by={by} group={group} list={list} filter={filter} count={count} />;
}

const columns: readonly Column<WatchState>[] = [
  {
    head: "Group",
    cell: ({ by, group }) => (
      <GroupLink by={by} group={group}>
        {compareByWords[by].name} {group}
      </GroupLink>
    ),
  },
  { head: "Model", cell: ({ stratum }) => stratum },
  { head: "Signal", cell: ({ alarm }) => (alarm ? <Stamp tone="warn">Signal</Stamp> : "none") },
  {
    head: "Packs in use",
    numeric: true,
    cell: (state) => opened(state, "in-service", state.packsInUse, { model: state.stratum }),
  },
  { head: "Failures", numeric: true, cell: (state) => opened(state, "failures", state.observed, countedBy(state)) },
  {
    head: "Undecided returns, not counted",
    numeric: true,
    cell: (state) => opened(state, "undecided", state.undecided, countedBy(state)),
  },
  { head: "To be expected by now", numeric: true, cell: ({ expected }) => expected.toFixed(1) },
  { head: "A signal from", numeric: true, cell: ({ alarmAt }) => `${grouped(alarmAt)} failures` },
  { head: "Evidence", numeric: true, cell: ({ evidence }) => evidence.toFixed(2) },
  { head: "Evidence for a signal", numeric: true, cell: ({ threshold }) => threshold.toFixed(2) },
];
