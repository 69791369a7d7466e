import { type Column, DataTable } from "@/app/_components/data-table";
import { Stamp } from "@/app/_components/status-line";
import { compareByWords } from "@/lib/reliability/compare-by";
import { WATCH_DAYS, type WatchState } from "@/lib/reliability/early-signals";
import type { PackList, PackListFilter } from "@/lib/reliability/pack-lists";
import { grouped } from "@/lib/reliability/plain-share";
import { faultWords, timesWords } from "@/lib/reliability/signal-sentences";
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
      rowKey={({ by, group, stratum, fault }) => `${by} ${group} ${stratum} ${fault ?? ""}`}
      whenEmpty="No group can be watched yet."
    />
  );
}

type Counted = Pick<WatchState, "stratum" | "fault" | "countedFromDays" | "countedUpToDays">;

/** A signal counts failures of one model at the ages its likes have been watched at, and of one fault where that is watched. */
export function countedBy({ stratum, fault, countedFromDays, countedUpToDays }: Counted): PackListFilter {
  return {
    model: stratum,
    byDays: countedUpToDays,
    ...(countedFromDays > 0 && { fromDays: countedFromDays }),
    ...(fault !== null && { fault }),
  };
}

function opened({ by, group }: WatchState, list: PackList, count: number, filter: PackListFilter) {
  return <PacksLink by={by} group={group} list={list} filter={filter} count={count} />;
}

const columns: readonly Column<WatchState>[] = [
  {
    head: "Group",
    cell: ({ by, group }) => (
      <GroupLink by={by} group={group}>
        {compareByWords[by].name} <span className="whitespace-nowrap">{group}</span>
      </GroupLink>
    ),
  },
  { head: "Model", short: true, cell: ({ stratum }) => stratum },
  { head: "Fault", short: true, cell: ({ fault }) => faultWords(fault) },
  {
    head: "Signal",
    cell: ({ alarm, holds }) =>
      alarm ? <Stamp tone="warn">{holds === false ? "Signal, delay may make it" : "Signal"}</Stamp> : "none",
  },
  {
    head: "Packs in use",
    numeric: true,
    cell: (state) => opened(state, "in-service", state.packsInUse, { model: state.stratum }),
  },
  { head: "Failures", numeric: true, cell: (state) => opened(state, "failures", state.observed, countedBy(state)) },
  {
    head: "Undecided",
    numeric: true,
    cell: (state) => opened(state, "undecided", state.undecided, { model: state.stratum, byDays: WATCH_DAYS }),
  },
  { head: "To be expected by now", numeric: true, cell: ({ expected }) => expected.toFixed(1) },
  { head: "Of its likes", numeric: true, cell: ({ likesFailed }) => grouped(likesFailed) },
  { head: "Times as often", numeric: true, cell: timesWords },
  {
    head: "A signal from",
    numeric: true,
    cell: ({ alarmAt, evidence, threshold }) => (
      <>
        {grouped(alarmAt)} failures
        <span className="block text-soft">
          evidence {evidence.toFixed(2)} of {threshold.toFixed(2)} needed
        </span>
      </>
    ),
  },
];
