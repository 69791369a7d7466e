import type { QueueRow as QueueRowFacts } from "@/lib/data/return-queue";
import { queueColumns, queueHeads } from "./queue-columns";
import { QueueRow } from "./queue-row";

/**
 * The queue as ruled rows: on a desk one line of cells under a common head, on a phone a card whose cells carry their
 * captions themselves. Nothing scrolls sideways.
 */
export function QueueList({ rows }: { rows: readonly QueueRowFacts[] }) {
  return (
    <>
      {/* Each cell names itself for those who do not see the head. */}
      <div aria-hidden className={`caption-print hidden gap-x-4 px-3 pb-1 xl:grid ${queueColumns}`}>
        {queueHeads.map((head) => (
          <span key={head}>{head}</span>
        ))}
      </div>
      <ol className="space-y-3 xl:space-y-0 xl:border-t xl:border-rule">
        {rows.map((row) => (
          <QueueRow key={row.reference} row={row} />
        ))}
      </ol>
    </>
  );
}
