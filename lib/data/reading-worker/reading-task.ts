import type { MessagePort } from "node:worker_threads";
import type { Baseline } from "@/lib/diagnosis/baseline";
import type { Finding } from "@/lib/diagnosis/finding";
import type { ReadingReport } from "@/lib/diagnosis/reading-report";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import type { PackModel } from "@/lib/packs/pack-model";
import type { BodyPart } from "@/lib/readings/body-part";
import type { ColumnAnswers, FileQuestions } from "@/lib/readings/column-questions";
import type { BodyPlan } from "@/lib/readings/plan-body";
import type { DecodedReadings } from "@/lib/readings/read-readings";
import type { ReadingFileSummary } from "@/lib/readings/reading-log";

/** What a thread is told to do; everything in it is plain data or shared memory. */
export type ReadingTask = ReadFileTask | HelpTask | LayOutTask;

/** Lay out the columns of a kept file for whoever looks closer. */
export interface LayOutTask {
  readonly kind: "lay-out";
  readonly path: string;
  readonly model: PackModel;
  /** As the file was read when it came. */
  readonly answers: ColumnAnswers | null;
  /** YYYY-MM-DD, as when it was read. */
  readonly builtOn: string | null;
  /** Where the columns come to lie, and where they are written until they are whole. */
  readonly into: string;
  readonly temporary: string;
  /** See `progressOf`. */
  readonly progress: SharedArrayBuffer;
}

/** Read, diagnose and sum up one file. */
export interface ReadFileTask {
  readonly kind: "read";
  readonly path: string;
  readonly sizeBytes: number;
  readonly model: PackModel;
  readonly context: SuggestionContext;
  readonly baseline?: Baseline | undefined;
  /** Day the pack was built, YYYY-MM-DD; null where nobody knows. */
  readonly builtOn: string | null;
  /** Unix s when the file came; null where nobody knows. */
  readonly receivedUnixS: number | null;
  readonly columns: ColumnKnowledge;
  /** See `progressOf`. */
  readonly progress: SharedArrayBuffer;
  /** To a second thread that may read pieces of the same file and share its judging; null where this thread is alone. */
  readonly helper: MessagePort | null;
  /** 1 where the second thread is there. */
  readonly helperStarted: SharedArrayBuffer;
  /** Rows from which a log is judged on two threads. */
  readonly sharedFromRows: number;
}

/** What is known about columns before a file is read. */
export interface ColumnKnowledge {
  /** Given for this very file; goes before what is remembered. */
  readonly answers: ColumnAnswers | null;
  /** Confirmed before, by the shape of the header. */
  readonly remembered: ColumnAnswers | null;
  /** Whether to ask where the decoder is unsure, rather than to go on with what it made out. */
  readonly ask: "when-unsure" | "always" | "never";
}

export const nothingKnown: ColumnKnowledge = { answers: null, remembered: null, ask: "never" };

/** The columns must be confirmed before the file can be kept. */
export interface AskColumns {
  readonly kind: "ask";
  readonly questions: FileQuestions;
  readonly shapeHash: string;
  /** What the file shows as it stands, before anybody answered; null where no row of it could be read. */
  readonly shows: { readonly findings: readonly Finding[]; readonly summary: ReadingFileSummary } | null;
}

/** The report of a file, with what was known of its columns. */
export interface ReadReport extends ReadingReport {
  readonly shapeHash: string | null;
  readonly columnsFrom: "headings" | "answers" | "remembered";
  /** The answers the columns were read with. */
  readonly answers: ColumnAnswers | null;
}

/** Stand by to read pieces of the file of another thread, and to judge its log together with it. */
export interface HelpTask {
  readonly kind: "help";
  readonly port: MessagePort;
  /** Set to 1 by the thread that takes the task. */
  readonly started: SharedArrayBuffer;
}

/** One piece of a body: whole lines, and room in the shared columns. */
export interface Piece {
  readonly from: number;
  readonly to: number;
  /** First row of the shared columns it may fill, and how many. */
  readonly firstRow: number;
  readonly rows: number;
}

/** A body cut into pieces, which threads take one by one: `next` counts those taken. */
export interface SharedBody {
  readonly kind: "body";
  readonly path: string;
  readonly plan: BodyPlan;
  readonly pieces: readonly Piece[];
  /** In shared memory. */
  readonly columns: readonly Float64Array[];
  readonly line: SharedArrayBuffer;
  readonly next: SharedArrayBuffer;
  readonly progress: SharedArrayBuffer;
}

/** Everything a judging rests on. */
export interface Judging {
  readonly decoded: Pick<DecodedReadings, "log" | "summary">;
  readonly model: PackModel;
  readonly context: SuggestionContext;
  readonly baseline?: Baseline | undefined;
}

/** A log that two threads judge, and where they hand each other their answers. */
export interface SharedJudging extends Judging {
  readonly kind: "judging";
  readonly port: MessagePort;
  readonly handed: SharedArrayBuffer;
}

export interface ReadPiece {
  readonly piece: number;
  readonly rows: number;
  readonly part: BodyPart;
  /** The numbers, where the room foreseen was too small; null where they lie in the shared columns. */
  readonly moved: { readonly columns: readonly Float64Array[]; readonly line: Int32Array } | null;
}

/** From the helper to the reader: one answer for all pieces it took. */
export interface Helped {
  readonly kind: "helped";
  readonly read: readonly ReadPiece[];
}

const stages = ["waiting", "reading", "judging"] as const;
export type ReadingStage = (typeof stages)[number];

export interface ReadingProgress {
  readonly stage: ReadingStage;
  readonly rows: number;
  readonly share: number;
}

/** Shared memory of a task's progress: stage, rows, kilobytes read. */
export function newProgress(): SharedArrayBuffer {
  return new SharedArrayBuffer(12);
}

export function progressOf(shared: SharedArrayBuffer, sizeBytes: number): ReadingProgress {
  const [stage = 0, rows = 0, kilobytes = 0] = new Int32Array(shared);
  return { stage: stages[stage] ?? "judging", rows, share: Math.min(1, (kilobytes * 1024) / Math.max(1, sizeBytes)) };
}

export function enterStage(shared: SharedArrayBuffer, stage: ReadingStage): void {
  Atomics.store(new Int32Array(shared), 0, stages.indexOf(stage));
}

export function addProgress(shared: SharedArrayBuffer, rows: number, bytes: number): void {
  const counts = new Int32Array(shared);
  Atomics.add(counts, 1, rows);
  Atomics.add(counts, 2, Math.round(bytes / 1024));
}
