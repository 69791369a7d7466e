import "server-only";
import { z } from "zod";
import type { Actor, Role } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { composeNotice } from "@/lib/notices/compose-notice";
import type { NoticeKind } from "@/lib/notices/notice-kinds";
import { noticeOnPage } from "@/lib/notices/notice-on-page";
import { officesHeard } from "@/lib/notices/who-hears";
import { fromOptionalDateColumn } from "../calendar-columns";
import { asActor, asSystem, type Transaction } from "../database";
import { readToldSignals } from "../reliability/told-signals";
import { readAddressees } from "./notice-audience";
import { noticePath, readNoticeKind } from "./notices";

export interface ToldNotice {
  readonly id: string;
  readonly kind: NoticeKind;
  /** The office it was told to. */
  readonly office: string;
  readonly queuedAt: Date;
  readonly subject: string;
  readonly paragraphs: readonly string[];
  /** Read by this person; of others of the office it says nothing. */
  readonly isRead: boolean;
}

export interface ToldPage {
  readonly notices: readonly ToldNotice[];
  readonly unread: number;
  /** The notice after which the older ones begin; null where these are the last. */
  readonly olderAfter: string | null;
}

/** Notices on one page. Engineering default. */
const NOTICES_A_PAGE = 30;

const noticeIdSchema = z.uuid();

/**
 * What was told to this person's office, newest first, whether or not a letter left the house; to the safety officer's also for who
 * stands in for it today. `after` is the last notice of the page before.
 */
export async function listToldToYou(actor: Actor, after: unknown = null, now = new Date()): Promise<ToldPage> {
  if (!may(actor, "read-told")) return { notices: [], unread: 0, olderAfter: null };
  const offices = await officesOf(actor, now);
  const last = noticeIdSchema.safeParse(after);
  const { rows, unread } = await asActor(actor, async (tx) => ({
    rows: await tx.notice.findMany({
      where: { audienceRole: { in: offices } },
      select: {
        id: true,
        kind: true,
        reference: true,
        audienceRole: true,
        until: true,
        queuedAt: true,
        reads: { where: { userId: actor.userId }, select: { readAt: true } },
      },
      orderBy: [{ queuedAt: "desc" }, { id: "desc" }],
      take: NOTICES_A_PAGE + 1,
      ...(last.success ? { cursor: { id: last.data }, skip: 1 } : {}),
    }),
    unread: await tx.notice.count({ where: unreadBy(actor, offices) }),
  }));
  const shown = rows.slice(0, NOTICES_A_PAGE);
  const notices: ToldNotice[] = [];
  for (const row of shown) notices.push(await toldNotice(row));
  return { notices, unread, olderAfter: rows.length > shown.length ? (shown.at(-1)?.id ?? null) : null };
}

interface NoticeRow {
  readonly id: string;
  readonly kind: string;
  readonly reference: string;
  readonly audienceRole: string | null;
  readonly until: Date | null;
  readonly queuedAt: Date;
  readonly reads: readonly unknown[];
}

async function toldNotice({ id, reference, audienceRole, queuedAt, reads, ...row }: NoticeRow): Promise<ToldNotice> {
  const kind = readNoticeKind(row.kind);
  const until = fromOptionalDateColumn(row.until);
  const link = noticePath(kind, reference, false);
  // As the system, as the letter is written: which group stands out is told to both offices, the rates behind it to one.
  const named = kind === "early-signal" ? await asSystem((tx) => readToldSignals(tx, reference, until)) : { until };
  const composed = composeNotice(kind, "en", { reference, link, ...named });
  const paragraphs = noticeOnPage(composed, link);
  return {
    id,
    kind,
    office: audienceRole ?? "",
    queuedAt,
    subject: composed.subject,
    paragraphs,
    isRead: reads.length > 0,
  };
}

export type OpenedNotice = { readonly kind: "opened"; readonly link: string } | { readonly kind: "not-told" };

/** More than these are not counted for the ways at the head of a page. Engineering default. */
export const MOST_UNREAD_COUNTED = 100;
/** Of each office so many are looked at for that number, the newest first: going through all of them took a second for 50,000. */
const NEWEST_LOOKED_AT = 300;

/**
 * How many of what was told last this person has not read, at most `MOST_UNREAD_COUNTED`. It is asked with every page, so it looks at
 * the newest of each office alone and no further than that number; the page of the messages counts all of them.
 */
export async function countUnreadTold(actor: Actor, now = new Date()): Promise<number> {
  if (!may(actor, "read-told")) return 0;
  const offices: string[] = await officesOf(actor, now);
  const [row] = await asActor(
    actor,
    (tx) => tx.$queryRaw<{ unread: bigint }[]>`
      SELECT count(*) AS "unread" FROM (
        SELECT 1 FROM unnest(${offices}::text[]) AS o("office") CROSS JOIN LATERAL (
          SELECT n."id" FROM "Notice" n WHERE n."audienceRole" = o."office"
          ORDER BY n."queuedAt" DESC LIMIT ${NEWEST_LOOKED_AT}) AS n
        WHERE NOT EXISTS (
          SELECT 1 FROM "NoticeRead" r WHERE r."noticeId" = n."id" AND r."userId" = ${actor.userId})
        LIMIT ${MOST_UNREAD_COUNTED}) AS "told"`,
  );
  return Number(row?.unread ?? 0);
}

/** Marks a notice as read by this person and says where it leads. */
export async function openToldNotice(actor: Actor, noticeId: unknown, now = new Date()): Promise<OpenedNotice> {
  const id = noticeIdSchema.safeParse(noticeId);
  if (!id.success || !may(actor, "read-told")) return { kind: "not-told" };
  const offices = await officesOf(actor, now);
  return asActor(actor, async (tx): Promise<OpenedNotice> => {
    const notice = await tx.notice.findFirst({
      where: { id: id.data, audienceRole: { in: offices } },
      select: { id: true, kind: true, reference: true },
    });
    if (notice === null) return { kind: "not-told" };
    await markRead(tx, actor, [notice.id], now);
    return { kind: "opened", link: noticePath(readNoticeKind(notice.kind), notice.reference, false) };
  });
}

/** Marks all as read that was told up to the newest one the person saw; what came since stays unread. */
export async function readAllTold(actor: Actor, newestSeen: unknown, now = new Date()): Promise<number> {
  const id = noticeIdSchema.safeParse(newestSeen);
  if (!id.success || !may(actor, "read-told")) return 0;
  const offices = await officesOf(actor, now);
  return asActor(actor, async (tx) => {
    const newest = await tx.notice.findFirst({
      where: { id: id.data, audienceRole: { in: offices } },
      select: { queuedAt: true },
    });
    if (newest === null) return 0;
    const unread = await tx.notice.findMany({
      where: { ...unreadBy(actor, offices), queuedAt: { lte: newest.queuedAt } },
      select: { id: true },
    });
    return markRead(
      tx,
      actor,
      unread.map((notice) => notice.id),
      now,
    );
  });
}

async function markRead(tx: Transaction, { userId }: Actor, ids: readonly string[], readAt: Date): Promise<number> {
  const data = ids.map((noticeId) => ({ noticeId, userId, readAt }));
  return (await tx.noticeRead.createMany({ data, skipDuplicates: true })).count;
}

function unreadBy({ userId }: Actor, offices: Role[]) {
  return { audienceRole: { in: offices }, reads: { none: { userId } } };
}

/**
 * The offices this person is told for. Where nobody holds the safety office nor stands in for it, its notices go to the managers, on
 * the page as in the post. As the system, because nobody's transaction reads accounts.
 */
async function officesOf(actor: Actor, now: Date): Promise<Role[]> {
  const offices = officesHeard(actor);
  if (actor.role !== "manager" || offices.includes("safety-officer")) return offices;
  const safety = { dealerId: null, audienceRole: "safety-officer" };
  const people = await asSystem((tx) => readAddressees(tx, safety, now));
  return people.some(({ id }) => id === actor.userId) ? [...offices, "safety-officer"] : offices;
}
