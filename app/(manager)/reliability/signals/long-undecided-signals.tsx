import { type Column, DataTable } from "@/app/_components/data-table";
import { compareByWords } from "@/lib/reliability/compare-by";
import { WATCH_DAYS } from "@/lib/reliability/early-signals";
import type { SignalIfFailures } from "@/lib/reliability/if-failures";
import { grouped } from "@/lib/reliability/plain-share";
import { GroupLink } from "../group-link";
import { PacksLink } from "../packs/packs-link";

interface LongUndecidedSignalsProps {
  readonly all: readonly SignalIfFailures[];
  readonly waitedDays: number;
}

/** Nearest to a signal first; the rest says nothing. Engineering default, no authority. */
const MOST_SHOWN = 15;

/** What would signal, were the returns that have been undecided for too long failures. */
export function LongUndecidedSignals({ all, waitedDays }: LongUndecidedSignalsProps) {
  if (all.length === 0) return null;
  const only = all.filter(({ now, then }) => then.alarm && !now.alarm);
  return (
    <section aria-labelledby="long-undecided" className="space-y-3">
      <h2 id="long-undecided">Undecided for too long</h2>
      <p className="max-w-4xl">
        Returns told {waitedDays} days ago or earlier on which nobody has decided are in no count above, and no delay
        allows for them any more. {onlyThen(only)}
      </p>
      <DataTable
        entriesWhenNarrow
        caption="Each watch of all faults together once more, were all these returns failures; nearest to a signal first"
        columns={columnsFor(waitedDays)}
        rows={all.slice(0, MOST_SHOWN)}
        rowKey={({ now: { by, group, stratum } }) => `${by} ${group} ${stratum}`}
        whenEmpty="There is no such return."
      />
    </section>
  );
}

function onlyThen(only: readonly SignalIfFailures[]): string {
  if (only.length === 0)
    return "Were they failures, no other group would signal by all its faults together; single faults are not asked, since nobody has found one.";
  const names = only.map(({ now: { by, group } }) => `${compareByWords[by].one} ${group}`).join(", ");
  return `Were they failures, ${only.length === 1 ? "this would be a signal" : "these would be signals"} too, all faults together: ${names}. Single faults are not asked, since nobody has found one.`;
}

function columnsFor(waitedDays: number): readonly Column<SignalIfFailures>[] {
  return [
    {
      head: "Group",
      cell: ({ now: { by, group } }) => (
        <GroupLink by={by} group={group}>
          {compareByWords[by].name} {group}
        </GroupLink>
      ),
    },
    { head: "Model", cell: ({ now }) => now.stratum },
    {
      head: "Undecided for too long",
      numeric: true,
      cell: ({ now: { by, group, stratum }, undecided }) => (
        <PacksLink
          by={by}
          group={group}
          list="undecided"
          filter={{ model: stratum, byDays: WATCH_DAYS, settledDays: waitedDays }}
          count={undecided}
        />
      ),
    },
    { head: "Failures then", numeric: true, cell: ({ then }) => grouped(then.observed) },
    { head: "To be expected then", numeric: true, cell: ({ then }) => then.expected.toFixed(1) },
    { head: "A signal from", numeric: true, cell: ({ then }) => `${grouped(then.alarmAt)} failures` },
    { head: "Signal", cell: ({ now, then }) => (now.alarm ? "now" : then.alarm ? "only then" : "none") },
  ];
}
