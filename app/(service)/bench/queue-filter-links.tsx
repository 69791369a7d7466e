import Link from "next/link";
import type { QueueFilter } from "@/lib/data/bench-returns";
import { queueHref } from "./queue-address";

const labels: Readonly<Record<QueueFilter, string>> = { open: "Open", decided: "Decided" };
const count = new Intl.NumberFormat("en-GB");

/** Open or decided. Each is an address of its own, so that it can be kept as a bookmark. */
export function QueueFilterLinks({ shown, total }: { shown: QueueFilter; total: number }) {
  return (
    <nav aria-label="Which returns" className="mb-3 flex flex-wrap items-center gap-x-2 border-b-2 border-ink">
      {(["open", "decided"] as const).map((filter) => (
        <Link
          key={filter}
          href={queueHref(filter, 1)}
          aria-current={filter === shown ? "page" : undefined}
          className="flex min-h-11 items-center px-4 font-semibold hover:bg-sunk aria-[current=page]:bg-ink aria-[current=page]:text-paper"
        >
          {labels[filter]}
        </Link>
      ))}
      <p className="ml-auto text-soft">
        {count.format(total)} {total === 1 ? "return" : "returns"}
      </p>
    </nav>
  );
}
