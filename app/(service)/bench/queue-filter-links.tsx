import Link from "next/link";
import { type QueueFilter, queueFilters } from "@/lib/data/returns/return-queue";
import { queueHref } from "./queue-address";

const labels: Readonly<Record<QueueFilter, string>> = {
  open: "To decide",
  maker: "Our turn",
  dealer: "Dealer's turn",
  overdue: "Overdue",
  "to-approve": "To approve",
  decided: "Decided",
  ended: "Ended",
};
const count = new Intl.NumberFormat("en-GB");

/** By what is decided, by whose turn it is, by what is overdue. Each is an address of its own, so that it can be kept as a bookmark. */
export function QueueFilterLinks({ shown, total }: { shown: QueueFilter; total: number }) {
  return (
    <nav aria-label="Which returns" className="mb-3 flex flex-wrap items-center gap-x-2 border-b-2 border-ink">
      {queueFilters.map((filter) => (
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
