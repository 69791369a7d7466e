import Link from "next/link";
import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import type { KeptSignal } from "@/lib/data/reliability/signals";
import { compareByWords } from "@/lib/reliability/compare-by";
import { grouped } from "@/lib/reliability/plain-share";
import { faultWords } from "@/lib/reliability/signal-sentences";
import { packListHref } from "../packs/pack-list-address";
import { countedBy } from "./signal-table";

/** Every signal that ever came, as it was then: it stays here when the numbers move. */
export function KeptSignalTable({ kept }: { readonly kept: readonly KeptSignal[] }) {
  return (
    <DataTable
      entriesWhenNarrow
      caption="Signals kept, as they were when they first came"
      columns={columns}
      rows={kept}
      rowKey={({ by, group, stratum, fault, signalRules }) => `${by} ${group} ${stratum} ${fault ?? ""} ${signalRules}`}
      whenEmpty="No signal has come since they are kept."
    />
  );
}

const standing = (standsNow: boolean | null) =>
  standsNow === null ? "not watched now" : standsNow ? "stands today" : "no longer given by today's numbers";

const columns: readonly Column<KeptSignal>[] = [
  { head: "First came with", cell: ({ dataDate }) => <CalendarDay date={dataDate} /> },
  {
    head: "Group",
    cell: (signal) => (
      <Link
        href={packListHref(signal.by, signal.group, "failures", countedBy(signal))}
        prefetch={false}
        className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
      >
        {compareByWords[signal.by].name} {signal.group}
      </Link>
    ),
  },
  { head: "Fault", cell: ({ fault }) => faultWords(fault) },
  { head: "Failures then", numeric: true, cell: ({ observed }) => grouped(observed) },
  { head: "To be expected then", numeric: true, cell: ({ expected }) => expected.toFixed(1) },
  { head: "Chance shared over", numeric: true, cell: ({ sharedOver }) => `${grouped(sharedOver)} groups` },
  { head: "Rules", cell: ({ signalRules }) => signalRules },
  { head: "Today", cell: ({ standsNow }) => standing(standsNow) },
];
