import Link from "next/link";
import { affectedHref } from "@/app/_affected/affected-address";
import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import type { FirstSignal, FirstSignals } from "@/lib/data/reliability/kept-signals";
import { compareByWords } from "@/lib/reliability/compare-by";
import { grouped } from "@/lib/reliability/plain-share";
import { faultWords, timesWords } from "@/lib/reliability/signal-sentences";

/** Groups of packs that failed more than their likes, as a signal came: whoever answers for safety sees them without a letter. */
export function SignalsPart({ found: { since, signals } }: { readonly found: FirstSignals }) {
  return (
    <section aria-labelledby="signals" className="space-y-2">
      <h2 id="signals">Early signals</h2>
      <p className="max-w-4xl">
        Packs that were built alike, or sold by one dealer, of which so many more failed than of the others of their
        model that chance hardly explains it. A signal says where to look, not why and not whether anybody is in danger;
        no signal is no all-clear. Every group is looked at once a day
        {since === null ? (
          ", and none has been looked at yet"
        ) : (
          <>
            , since <CalendarDay date={since} />
          </>
        )}
        .
      </p>
      <DataTable
        entriesWhenNarrow
        caption="Early signals as they first came, the newest first"
        columns={columns}
        rows={signals}
        rowKey={({ by, group, fault }) => `${by} ${group} ${fault ?? ""}`}
        whenEmpty="No signal has come yet."
      />
    </section>
  );
}

const columns: readonly Column<FirstSignal>[] = [
  { head: "First came with", cell: ({ firstOn }) => <CalendarDay date={firstOn} /> },
  {
    head: "Packs",
    cell: ({ by, group }) => (
      <Link
        href={affectedHref({ by, group })}
        prefetch={false}
        className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
      >
        {compareByWords[by].name} {group}
      </Link>
    ),
  },
  { head: "Fault", cell: ({ fault }) => faultWords(fault) },
  { head: "Confirmed failures then", numeric: true, cell: ({ observed }) => grouped(observed) },
  { head: "To be expected then", numeric: true, cell: ({ expected }) => expected.toFixed(1) },
  { head: "Times as often (95 % limits)", cell: (signal) => timesWords(signal) },
];
