"use client";

import { queueColumns, queueHeads } from "./queue-columns";
import { QueueRow } from "./queue-row";
import type { QueueRowWords } from "./queue-words";

/**
 * The queue as ruled rows: on a desk one line of cells under a common head, on a phone a card whose cells carry their
 * captions themselves. Nothing scrolls sideways.
 *
 * It needs no script of its own, but as a part that the browser knows its rows travel as words alone. Else each is sent twice, as
 * markup and as the tree of its elements, and most of what a page of the queue costs the server goes into the second.
 */
export function QueueList({ rows }: { rows: readonly QueueRowWords[] }) {
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
