import "server-only";
import type { Prisma } from "@/prisma/generated/client";

/** What a person learns from a readings file, in one piece. */
export interface ReadingFileCard {
  readonly id: string;
  readonly fileName: string;
  readonly sizeBytes: number;
  readonly sha256: string;
  readonly rows: number;
  readonly groups: number;
  readonly coverage: number;
  readonly timeRepairs: number;
  readonly rejectedRows: number;
  /** The first twenty. */
  readonly rejected: readonly { readonly line: number; readonly reason: string }[];
  readonly remarks: readonly string[];
  readonly findings: readonly FindingView[];
  readonly suggestion: {
    readonly remedy: string;
    readonly reasons: readonly string[];
    readonly plainReasons: readonly string[];
    readonly wouldChange: readonly string[];
    readonly ruleVersion: string;
  } | null;
}

/** Readings that were added before those that count, which stay. */
export interface EarlierReadings {
  readonly id: string;
  readonly fileName: string;
  readonly rows: number;
  readonly uploadedAt: Date;
  /** When they were added to the return and by whom; null in old rows. */
  readonly attachedAt: Date | null;
  readonly attachedByName: string | null;
  readonly suggestedRemedy: string | null;
  readonly faults: readonly string[];
}

export interface FindingView {
  readonly fault: string;
  readonly groups: readonly number[];
  readonly confidence: number;
  readonly safetyClass: string;
  readonly evidenceFor: readonly string[];
  readonly evidenceAgainst: readonly string[];
  readonly nextTest: string;
}

export const readingFileSelect = {
  id: true,
  fileName: true,
  sizeBytes: true,
  sha256: true,
  rows: true,
  groups: true,
  coverage: true,
  timeRepairs: true,
  rejectedRows: true,
  rejected: true,
  remarks: true,
  findings: {
    select: {
      fault: true,
      groups: true,
      confidence: true,
      safetyClass: true,
      evidenceFor: true,
      evidenceAgainst: true,
      nextTest: true,
    },
    orderBy: { rank: "asc" },
  },
  suggestion: { select: { remedy: true, reasons: true, plainReasons: true, wouldChange: true, ruleVersion: true } },
} as const satisfies Prisma.ReadingFileSelect;

/** Every readings file of a return, the newest first. */
export const earlierReadingsSelect = {
  select: {
    id: true,
    fileName: true,
    rows: true,
    uploadedAt: true,
    attachedAt: true,
    attachedByName: true,
    suggestion: { select: { remedy: true } },
    findings: { select: { fault: true }, orderBy: { rank: "asc" } },
  },
  orderBy: [{ attachedAt: { sort: "desc", nulls: "last" } }, { id: "desc" }],
} as const satisfies Prisma.Return$readingFilesArgs;

type EarlierRow = Prisma.ReadingFileGetPayload<Pick<typeof earlierReadingsSelect, "select">>;

export function earlierReadings(rows: readonly EarlierRow[], countingId: string | null): EarlierReadings[] {
  return rows
    .filter(({ id }) => id !== countingId)
    .map(({ suggestion, findings, ...row }) => ({
      ...row,
      suggestedRemedy: suggestion?.remedy ?? null,
      faults: findings.map(({ fault }) => fault),
    }));
}

type Row = Prisma.ReadingFileGetPayload<{ select: typeof readingFileSelect }>;

export function readingFileCard({ sizeBytes, rejected, ...row }: Row): ReadingFileCard {
  return { ...row, sizeBytes: Number(sizeBytes), rejected: readRejected(rejected).slice(0, 20) };
}

function readRejected(json: unknown): { line: number; reason: string }[] {
  if (!Array.isArray(json)) return [];
  return json.flatMap((item: unknown) =>
    typeof item === "object" && item !== null && "line" in item && "reason" in item
      ? [{ line: Number(item.line), reason: String(item.reason) }]
      : [],
  );
}
