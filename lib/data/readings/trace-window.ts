import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { TraceSeries } from "@/lib/readings/trace-picture";
import {
  BLOCK_ROWS,
  lowestAndHighest,
  planWindow,
  type TraceWindow,
  type WindowPlan,
} from "@/lib/readings/trace-window";
import { readReturnReference } from "@/lib/returns/return-reference";
import { fromDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { packModelOf } from "../packs/pack-facts";
import { storedAnswers } from "./column-mappings";
import { type KeptLog, openTraceStore, type TraceStore } from "./trace-store";

export interface WindowRequest {
  readonly fromRow: number;
  readonly toRow: number;
  /** Groups drawn as lines of their own, besides the band in which all lie. */
  readonly groups: readonly number[];
}

/** Groups drawn apart at once: more lines than styles cannot be told apart. */
const MOST_GROUPS = 4;

/**
 * Part of the log of a return's readings file, from its original bytes: lowest and highest value of each stretch, down
 * to single rows. Null where there is no such file or the person may not see it.
 */
export async function readTraceWindow(
  actor: Actor,
  typedReference: string,
  request: WindowRequest,
): Promise<TraceWindow | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-build-record")) return null;
  const kept = await asActor(actor, async (tx): Promise<KeptLog | null> => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: {
        pack: { select: { builtOn: true, revision: { select: { model: true } } } },
        readingFile: { select: { sha256: true, columnAnswers: true } },
      },
    });
    return row === null || row.readingFile === null
      ? null
      : {
          sha256: row.readingFile.sha256,
          model: packModelOf(row.pack.revision.model),
          answers: storedAnswers(row.readingFile.columnAnswers),
          builtOn: fromDateColumn(row.pack.builtOn),
        };
  });
  if (kept === null) return null;
  const store = await openTraceStore(kept);
  try {
    return await windowOf(store, request);
  } finally {
    await store.close();
  }
}

async function windowOf(store: TraceStore, request: WindowRequest): Promise<TraceWindow> {
  const plan = planWindow(store.rows, request.fromRow, request.toRow);
  const { fromRow, toRow, rowsPerBucket, buckets } = plan;
  const times = await store.times(fromRow, toRow);
  const chosen = request.groups.slice(0, MOST_GROUPS);
  const series: TraceSeries[] = [];
  for (const [index, column] of store.columns.entries()) {
    if (column.group !== null && !chosen.includes(column.group)) continue;
    const envelope = await envelopeOf(store, index, plan);
    if (envelope.lowest.some((value) => value !== null)) series.push({ ...column, ...envelope });
  }
  return {
    fromRow,
    toRow,
    rowsInLog: store.rows,
    rowsPerBucket,
    timeS: Array.from({ length: buckets }, (_, bucket) => Math.max(0, times[bucket * rowsPerBucket] ?? 0)),
    series,
  };
}

async function envelopeOf(store: TraceStore, column: number, plan: WindowPlan) {
  const { fromRow, toRow, rowsPerBucket, byBlocks } = plan;
  if (!byBlocks) {
    const values = await store.values(column, fromRow, toRow);
    return lowestAndHighest(values, values, rowsPerBucket);
  }
  const { lowest, highest } = await store.blocks(column, fromRow / BLOCK_ROWS, Math.ceil(toRow / BLOCK_ROWS));
  return lowestAndHighest(lowest, highest, rowsPerBucket / BLOCK_ROWS);
}
