import "server-only";
import { availableParallelism } from "node:os";
import path from "node:path";
import { MessageChannel, type MessagePort } from "node:worker_threads";
import { Piscina } from "piscina";
import type { Baseline } from "@/lib/diagnosis/baseline";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import type { PackModel } from "@/lib/packs/pack-model";
import { mostValues } from "@/lib/readings/body-part";
import type { UnusableFile } from "@/lib/readings/unusable-file";
import { createNumberRoom, mostNumbersIn } from "./number-room";
import {
  type AskColumns,
  type ColumnKnowledge,
  type LayOutTask,
  newProgress,
  nothingKnown,
  progressOf,
  type ReadingProgress,
  type ReadingTask,
  type ReadReport,
} from "./reading-task";
import { limitWhileReading } from "./time-limit";

/** Limits of the threads that read files. Engineering defaults, no authority. */
export interface ReadingLimits {
  /** One file at a time for each core but not more, and two threads for one long file where nobody else waits. */
  readonly threads: number;
  /** Files that may wait for a thread; the next is told to come back. */
  readonly waiting: number;
  /** The longest file takes seconds; this is a thread that hangs. Counted from when it is being read, not from when it came. */
  readonly seconds: number;
  /** Numbers that all files being read may hold together; a file with more is read alone. 8 bytes each, and about as much again to judge them. */
  readonly numbers: number;
  /** Heap of one thread, MB. The numbers themselves lie outside it and are bounded by `mostValues`. */
  readonly heapMb: number;
  /** How far these threads stand back behind the one that answers pages, 0 to 19. Only Linux knows it of a thread. */
  readonly niceness: number;
  /** Below so many bytes one thread has read a file, and below so many rows it has judged it, sooner than two have found each other. */
  readonly twoThreadsFromBytes: number;
  readonly sharedFromRows: number;
}

export const defaultReadingLimits: ReadingLimits = {
  threads: Math.max(2, Math.min(4, availableParallelism())),
  waiting: 6,
  seconds: 120,
  numbers: mostValues,
  heapMb: 768,
  niceness: 10,
  twoThreadsFromBytes: 8 << 20,
  sharedFromRows: 200_000,
};

export type ReadAnswer =
  | ReadReport
  | AskColumns
  | UnusableFile
  /** As many files wait as may. */
  | { readonly kind: "busy" }
  /** The thread ran out of memory or time; the server is unharmed. */
  | { readonly kind: "gave-up"; readonly why: "memory" | "time" };

export interface FileToRead {
  readonly path: string;
  readonly sizeBytes: number;
  readonly model: PackModel;
  readonly context: SuggestionContext;
  readonly baseline?: Baseline | undefined;
  readonly builtOn?: string | null | undefined;
  readonly receivedUnixS?: number | null | undefined;
  readonly columns?: ColumnKnowledge | undefined;
  /** Ends the reading at once, wherever it is; `readFile` then throws what the signal gives as its reason. */
  readonly signal?: AbortSignal | undefined;
  readonly onProgress?: ((progress: ReadingProgress) => void) | undefined;
}

export interface FileToLayOut extends Omit<LayOutTask, "kind" | "progress"> {
  readonly sizeBytes: number;
}

export interface ReadingPool {
  readonly readFile: (file: FileToRead) => Promise<ReadAnswer>;
  /** Lays out the columns of a kept file; throws where that takes longer than a reading may. */
  readonly layOut: (file: FileToLayOut) => Promise<void>;
  /** Whether a file that came now would be turned away. */
  readonly isFull: () => boolean;
  readonly close: () => Promise<void>;
}

/** How often a person is told how far it is. */
const PROGRESS_EVERY_MS = 200;
/** An idle thread is kept this long: starting one takes a second. */
const IDLE_MS = 10 * 60_000;

/** Threads that read files, so that a long file never keeps anybody else waiting for a page. */
export function createReadingPool(limits: ReadingLimits = defaultReadingLimits): ReadingPool {
  const pool = new Piscina({
    // Not resolved from this module: the bundler moves it, but leaves the sources where they are.
    filename: path.resolve("lib/data/reading-worker/entry.mjs"),
    minThreads: 1,
    maxThreads: limits.threads,
    idleTimeout: IDLE_MS,
    // Otherwise a thread with nothing to do sleeps before its own turn comes to give a file's memory back.
    atomics: "disabled",
    execArgv: [],
    argv: [String(limits.niceness)],
    resourceLimits: { maxOldGenerationSizeMb: limits.heapMb },
  });
  // A thread that dies while it has nothing to do is replaced; it must not take the server with it.
  pool.on("error", () => undefined);
  let underWay = 0;

  const room = createNumberRoom(limits.numbers);
  const run = (task: ReadingTask, signal: AbortSignal, ports: MessagePort[]) =>
    pool.run(task, { signal, transferList: ports });
  const isFull = () => underWay >= limits.threads + limits.waiting;

  async function readFile(file: FileToRead): Promise<ReadAnswer> {
    if (isFull()) return { kind: "busy" };
    file.signal?.throwIfAborted();
    underWay += 1;
    const ending = new AbortController();
    const stop = () => ending.abort("cancelled");
    file.signal?.addEventListener("abort", stop, { once: true });
    const progress = newProgress();
    const callOffLimit = limitWhileReading(progress, limits.seconds, () => ending.abort("time"));
    const { onProgress } = file;
    const tell = () => onProgress?.(progressOf(progress, file.sizeBytes));
    const ticker = onProgress === undefined ? undefined : setInterval(tell, PROGRESS_EVERY_MS);
    const numbers = mostNumbersIn(file.sizeBytes);
    let hasRoom = false;
    let helper: ReturnType<typeof callHelper> | null = null;
    try {
      await room.enter(numbers, ending.signal);
      hasRoom = true;
      const isLong = file.sizeBytes >= limits.twoThreadsFromBytes;
      helper = isLong && underWay === 1 && limits.threads > 1 ? callHelper(ending) : null;
      const { path: where, sizeBytes, model, context, baseline, columns = nothingKnown } = file;
      const { builtOn = null, receivedUnixS = null } = file;
      const known = { model, context, baseline, builtOn, receivedUnixS, columns };
      const task = { kind: "read", path: where, sizeBytes, ...known, progress } as const;
      const ports = helper === null ? [] : [helper.port];
      const { port = null, started = new SharedArrayBuffer(4) } = helper ?? {};
      const { sharedFromRows } = limits;
      return await run({ ...task, helper: port, helperStarted: started, sharedFromRows }, ending.signal, ports);
    } catch (fault) {
      file.signal?.throwIfAborted();
      if (ending.signal.reason === "time") return { kind: "gave-up", why: "time" };
      const cause = ending.signal.reason === "helper" ? helper?.fault() : fault;
      // A second thread may wait for the answer of one that is gone.
      ending.abort("failed");
      if (isOutOfMemory(cause)) return { kind: "gave-up", why: "memory" };
      throw cause;
    } finally {
      callOffLimit();
      clearInterval(ticker);
      file.signal?.removeEventListener("abort", stop);
      underWay -= 1;
      helper?.dismiss();
      if (hasRoom) room.leave(numbers);
    }
  }

  /** Asks a second thread to stand by. Where it fails the reader would wait in vain, so its failure ends both. */
  function callHelper(ending: AbortController) {
    const { port1, port2 } = new MessageChannel();
    const started = new SharedArrayBuffer(4);
    const queued = new AbortController();
    let fault: unknown;
    run({ kind: "help", port: port2, started }, AbortSignal.any([ending.signal, queued.signal]), [port2]).catch(
      (thrown: unknown) => {
        fault = thrown;
        if (!queued.signal.aborted) ending.abort("helper");
      },
    );
    return {
      port: port1,
      started,
      fault: () => fault,
      /** A helper that is still queued must not take a thread from the next file; one that runs ends with its reader. */
      dismiss(): void {
        if (Atomics.load(new Int32Array(started), 0) === 0) queued.abort();
      },
    };
  }

  async function layOut({ sizeBytes, ...task }: FileToLayOut): Promise<void> {
    const numbers = mostNumbersIn(sizeBytes);
    const ending = new AbortController();
    await room.enter(numbers, ending.signal);
    const progress = newProgress();
    const tooLong = new Error("Laying out the columns of a kept file took too long");
    const callOffLimit = limitWhileReading(progress, limits.seconds, () => ending.abort(tooLong));
    try {
      await run({ kind: "lay-out", ...task, progress }, ending.signal, []);
    } finally {
      callOffLimit();
      room.leave(numbers);
    }
  }

  return { readFile, layOut, isFull, close: () => pool.destroy() };
}

function isOutOfMemory(fault: unknown): boolean {
  return fault instanceof Error && "code" in fault && fault.code === "ERR_WORKER_OUT_OF_MEMORY";
}

const heldKey = Symbol.for("returns-bench.reading-pool");

/** The bundler may load this module more than once in a process; the threads must be started once. */
const processWide = globalThis as typeof globalThis & { [heldKey]?: ReadingPool | undefined };

/** The pool of this process, its threads started with the first file. */
export function readingPool(): ReadingPool {
  processWide[heldKey] ??= createReadingPool();
  return processWide[heldKey];
}
