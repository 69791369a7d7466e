import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { endedStatuses, isOpenStatus, openStatuses, undecidedStatuses } from "@/lib/returns/return-status";
import { readTurn, type WhoseTurn } from "@/lib/returns/return-turn";
import { readSafetyState, type SafetyState } from "@/lib/returns/safety-track";
import type { Prisma } from "@/prisma/generated/client";
import { asActor } from "./database";
import { shownSerial } from "./pack-words";

export interface QueueRow {
  readonly reference: string;
  readonly serialShown: string;
  readonly modelName: string;
  readonly revisionCode: string;
  readonly dealerName: string;
  readonly country: string;
  readonly lodgedAt: Date;
  readonly status: string;
  readonly takenByName: string | null;
  readonly symptom: string;
  readonly dangerSigns: readonly string[];
  /** The safety flag of the pack now. */
  readonly flag: SafetyState;
  readonly coverOutcome: string;
  /** Most likely first; empty where no file was sent or nothing was found. */
  readonly findings: readonly { readonly fault: string; readonly safetyClass: string }[];
  /** Null where no file was sent. */
  readonly suggestedRemedy: string | null;
  readonly hasReadings: boolean;
  readonly remedy: string | null;
  readonly turn: WhoseTurn;
  /** When whoever has the turn should have acted; null where nothing is due. */
  readonly dueAt: Date | null;
  readonly isOverdue: boolean;
  /** The maker's clock stands still while the dealer is asked. */
  readonly isPaused: boolean;
}

export interface QueuePage {
  readonly rows: readonly QueueRow[];
  readonly total: number;
  readonly page: number;
  readonly pages: number;
}

export const queueFilters = ["open", "maker", "dealer", "overdue", "to-approve", "decided", "ended"] as const;
export type QueueFilter = (typeof queueFilters)[number];

const PAGE_ROWS = 25;

function whereFor(filter: QueueFilter, now: Date): Prisma.ReturnWhereInput {
  const open = { status: { in: [...openStatuses] }, settledBefore: false };
  switch (filter) {
    case "open":
      return { status: { in: [...undecidedStatuses] } };
    case "maker":
    case "dealer":
      return { ...open, turn: filter };
    case "overdue":
      return { ...open, dueAt: { lt: now } };
    case "to-approve":
      return { status: "decision-proposed" };
    case "decided":
      return { status: { in: openStatuses.filter((status) => !undecidedStatuses.includes(status)) } };
    case "ended":
      return { status: { in: [...endedStatuses] } };
  }
}

function orderFor(filter: QueueFilter): Prisma.ReturnOrderByWithRelationInput[] {
  if (filter === "decided" || filter === "ended") return [{ lodgedAt: "desc" }];
  if (filter === "overdue") return [{ dueAt: "asc" }];
  return [{ riskRank: "desc" }, { lodgedAt: "asc" }];
}

/** The service queue: what waits with the riskiest first, what is overdue with the longest first, what is done newest first. */
export async function listReturnQueue(
  actor: Actor,
  filter: QueueFilter,
  page: number,
  now = new Date(),
): Promise<QueuePage | null> {
  if (!may(actor, "read-queue")) return null;
  const where = whereFor(filter, now);
  return asActor(actor, async (tx) => {
    const total = await tx.return.count({ where });
    const pages = Math.max(1, Math.ceil(total / PAGE_ROWS));
    const shown = Math.min(Math.max(1, page), pages);
    const rows = await tx.return.findMany({
      where,
      select: queueSelect,
      orderBy: orderFor(filter),
      skip: (shown - 1) * PAGE_ROWS,
      take: PAGE_ROWS,
    });
    return { rows: rows.map((row) => queueRow(row, now)), total, page: shown, pages };
  });
}

const queueSelect = {
  reference: true,
  lodgedAt: true,
  status: true,
  takenByName: true,
  turn: true,
  dueAt: true,
  pausedMinutesLeft: true,
  settledBefore: true,
  symptom: true,
  dangerSigns: true,
  coverOutcome: true,
  pack: {
    select: {
      serial: true,
      revision: { select: { code: true, model: { select: { name: true } } } },
      tracks: { where: { track: "safety" }, select: { state: true } },
    },
  },
  dealer: { select: { name: true, country: true } },
  decision: { select: { remedy: true } },
  readingFile: {
    select: {
      findings: { select: { fault: true, safetyClass: true }, orderBy: { rank: "asc" } },
      suggestion: { select: { remedy: true } },
    },
  },
} as const satisfies Prisma.ReturnSelect;

function queueRow(row: Prisma.ReturnGetPayload<{ select: typeof queueSelect }>, now: Date): QueueRow {
  const { pack, dealer, readingFile, decision, turn, pausedMinutesLeft, settledBefore, ...rest } = row;
  const isEnded = settledBefore || !isOpenStatus(row.status);
  return {
    ...rest,
    flag: readSafetyState(pack.tracks[0]?.state ?? "normal"),
    turn: readTurn(turn),
    dueAt: isEnded ? null : row.dueAt,
    isOverdue: !isEnded && row.dueAt !== null && row.dueAt < now,
    isPaused: pausedMinutesLeft !== null,
    serialShown: shownSerial(pack.serial),
    modelName: pack.revision.model.name,
    revisionCode: pack.revision.code,
    dealerName: dealer.name,
    country: dealer.country,
    findings: readingFile?.findings ?? [],
    suggestedRemedy: readingFile?.suggestion?.remedy ?? null,
    hasReadings: readingFile !== null,
    remedy: decision?.remedy ?? null,
  };
}
