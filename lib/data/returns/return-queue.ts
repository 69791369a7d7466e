import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { endedStatuses, isOpenStatus, openStatuses, undecidedStatuses } from "@/lib/returns/return-status";
import { readTurn, type WhoseTurn } from "@/lib/returns/return-turn";
import { readSafetyState, type SafetyState } from "@/lib/returns/safety-track";
import { Prisma } from "@/prisma/generated/client";
import { asActor, type Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";

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
  /** A legal hold lies on the pack. */
  readonly isHeld: boolean;
  readonly coverOutcome: string;
  /** Most likely first; empty where no file was sent or nothing was found. */
  readonly findings: readonly { readonly fault: string; readonly safetyClass: string }[];
  /** Safety class of what nobody has judged yet of the case; null where there is nothing. */
  readonly caseClass: string | null;
  /** By the readings; null where no file was sent. */
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

function whereFor(filter: QueueFilter, now: Date): Prisma.Sql {
  const at = (statuses: readonly string[]) => Prisma.sql`r."status" IN (${Prisma.join([...statuses])})`;
  const open = Prisma.sql`${at(openStatuses)} AND NOT r."settledBefore"`;
  switch (filter) {
    case "open":
      return at(undecidedStatuses);
    case "maker":
    case "dealer":
      return Prisma.sql`${open} AND r."turn" = ${filter}`;
    case "overdue":
      return Prisma.sql`${open} AND r."dueAt" < ${now}`;
    case "to-approve":
      return at(["decision-proposed"]);
    case "decided":
      return at(openStatuses.filter((status) => !undecidedStatuses.includes(status)));
    case "ended":
      return at(endedStatuses);
  }
}

function orderFor(filter: QueueFilter): Prisma.Sql {
  if (filter === "decided" || filter === "ended") return Prisma.sql`r."lodgedAt" DESC, r."id"`;
  if (filter === "overdue") return Prisma.sql`r."dueAt", r."id"`;
  return Prisma.sql`r."riskRank" DESC, r."lodgedAt", r."id"`;
}

/** The service queue: what waits with the riskiest first, what is overdue with the longest first, what is done newest first. */
export async function listReturnQueue(
  actor: Actor,
  filter: QueueFilter,
  page: number,
  now = new Date(),
): Promise<QueuePage | null> {
  if (!may(actor, "read-queue")) return null;
  const rows = await asActor(actor, (tx) =>
    readQueueRows(tx, { where: whereFor(filter, now), order: orderFor(filter), page }),
  );
  const [{ total, page: shown, pages } = { total: 0, page: 1, pages: 1 }] = rows;
  return { rows: rows.flatMap((row) => (isFound(row) ? [queueRow(row, now)] : [])), total, page: shown, pages };
}

interface FoundRow {
  readonly reference: string;
  readonly lodgedAt: Date;
  readonly status: string;
  readonly takenByName: string | null;
  readonly turn: string;
  readonly dueAt: Date | null;
  readonly pausedMinutesLeft: number | null;
  readonly settledBefore: boolean;
  readonly symptom: string;
  readonly dangerSigns: readonly string[];
  readonly caseClass: string | null;
  readonly coverOutcome: string;
  readonly serial: string;
  readonly revisionCode: string;
  readonly modelName: string;
  readonly safetyState: string | null;
  readonly isHeld: boolean;
  readonly dealerName: string;
  readonly country: string;
  readonly remedy: string | null;
  readonly hasReadings: boolean;
  readonly findings: readonly { readonly fault: string; readonly safetyClass: string }[];
  readonly suggestedRemedy: string | null;
}

type PageRow = Pick<QueuePage, "total" | "page" | "pages"> & (FoundRow | { readonly reference: null });

function isFound(row: PageRow): row is PageRow & FoundRow {
  return row.reference !== null;
}

/**
 * One page of the queue with its total, in one statement: fifty people ask at one moment, and each statement is a way to the
 * server and back. The rows are chosen from the index first, and only theirs are looked up. A total without rows is one row
 * without a reference.
 */
function readQueueRows(
  tx: Transaction,
  { where, order, page }: { readonly where: Prisma.Sql; readonly order: Prisma.Sql; readonly page: number },
): Promise<PageRow[]> {
  return tx.$queryRaw<PageRow[]>`
    SELECT n."total", n."pages", n."page", r."reference", r."lodgedAt", r."status", r."takenByName", r."turn", r."dueAt",
      r."pausedMinutesLeft", r."settledBefore", r."symptom", r."dangerSigns", r."caseClass", r."coverOutcome", p."serial",
      v."code" AS "revisionCode", m."name" AS "modelName", t."state" AS "safetyState", h."id" IS NOT NULL AS "isHeld", d."name" AS "dealerName", d."country",
      c."remedy", f."id" IS NOT NULL AS "hasReadings", s."remedy" AS "suggestedRemedy",
      (SELECT coalesce(json_agg(json_build_object('fault', g."fault", 'safetyClass', g."safetyClass") ORDER BY g."rank"), '[]')
        FROM "Finding" g WHERE g."readingFileId" = f."id") AS "findings"
    FROM (SELECT "total", "pages", least(greatest(1, ${page}::int), "pages") AS "page"
      FROM (SELECT count(*)::int AS "total", greatest(1, ceil(count(*) / ${PAGE_ROWS}::numeric))::int AS "pages"
        FROM "Return" r WHERE ${where}) counted) n
    LEFT JOIN LATERAL (SELECT r."id" FROM "Return" r WHERE ${where} ORDER BY ${order}
      LIMIT ${PAGE_ROWS}::int OFFSET (n."page" - 1) * ${PAGE_ROWS}::int) shown ON true
    LEFT JOIN "Return" r ON r."id" = shown."id"
    LEFT JOIN "Pack" p ON p."id" = r."packId"
    LEFT JOIN "Revision" v ON v."id" = p."revisionId"
    LEFT JOIN "PackModel" m ON m."id" = v."modelId"
    LEFT JOIN "Track" t ON t."packId" = p."id" AND t."track" = 'safety'
    LEFT JOIN "Track" h ON h."packId" = p."id" AND h."track" = 'hold' AND h."state" = 'held'
    LEFT JOIN "Dealer" d ON d."id" = r."dealerId"
    LEFT JOIN "Decision" c ON c."id" = r."decisionId"
    LEFT JOIN "ReadingFile" f ON f."id" = r."readingFileId"
    LEFT JOIN "Suggestion" s ON s."readingFileId" = f."id"
    ORDER BY ${order}`;
}

function queueRow(row: FoundRow, now: Date): QueueRow {
  const isEnded = row.settledBefore || !isOpenStatus(row.status);
  return {
    reference: row.reference,
    lodgedAt: row.lodgedAt,
    status: row.status,
    takenByName: row.takenByName,
    symptom: row.symptom,
    dangerSigns: row.dangerSigns,
    coverOutcome: row.coverOutcome,
    flag: readSafetyState(row.safetyState ?? "normal"),
    isHeld: row.isHeld,
    turn: readTurn(row.turn),
    dueAt: isEnded ? null : row.dueAt,
    isOverdue: !isEnded && row.dueAt !== null && row.dueAt < now,
    isPaused: row.pausedMinutesLeft !== null,
    serialShown: shownSerial(row.serial),
    modelName: row.modelName,
    revisionCode: row.revisionCode,
    dealerName: row.dealerName,
    country: row.country,
    findings: row.findings,
    caseClass: row.caseClass,
    suggestedRemedy: row.suggestedRemedy,
    hasReadings: row.hasReadings,
    remedy: row.remedy,
  };
}
