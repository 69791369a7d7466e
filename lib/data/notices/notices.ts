import "server-only";
import type { Actor, Role } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { composeNotice } from "@/lib/notices/compose-notice";
import { type NoticeKind, type NoticeLanguage, noticeKinds, noticeLanguageOf } from "@/lib/notices/notice-kinds";
import { noticeOnPage } from "@/lib/notices/notice-on-page";
import { readSerial } from "@/lib/packs/serial";
import { readNameOfGroup } from "@/lib/reliability/group-name";
import { readIncidentReference } from "@/lib/safety/incident-reference";
import { isUnsentReference } from "@/lib/safety/unsent-danger";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromOptionalDateColumn, toOptionalDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { readEnvironment } from "../env";

export interface NoticeToQueue {
  readonly kind: NoticeKind;
  /** Reference of the return or of the safety matter. */
  readonly reference: string;
  readonly returnId?: string | undefined;
  /** What happened, so that the same move queues the same notice once: the version of the return, say. */
  readonly occasion: string;
  readonly to: { readonly dealerId: string } | { readonly role: Role };
  /** For the kinds that name a day. */
  readonly until?: CalendarDate | undefined;
}

/**
 * Puts a notice into the outbox, in the transaction of the move it tells of: if the move does not happen, neither does
 * the notice. The same notice for the same occasion is queued once, however often the move is carried out again. True where it was
 * queued now.
 */
export async function queueNotice(tx: Transaction, notice: NoticeToQueue): Promise<boolean> {
  const { kind, reference, returnId, occasion, to, until } = notice;
  const audience = "dealerId" in to ? to.dealerId : to.role;
  // createMany returns no row, so a dealer may queue an alarm to a role of the house that it could not read.
  const { count } = await tx.notice.createMany({
    data: {
      key: [kind, reference, occasion, audience].join(" "),
      kind,
      reference,
      returnId: returnId ?? null,
      dealerId: "dealerId" in to ? to.dealerId : null,
      audienceRole: "role" in to ? to.role : null,
      until: toOptionalDateColumn(until ?? null),
    },
    skipDuplicates: true,
  });
  return count === 1;
}

/** Where a notice leads: the page behind the sign-in, for a dealer or for the house. */
export function noticePath(kind: NoticeKind, reference: string, isForDealer: boolean): string {
  if (kind === "credited" && isForDealer) return "/dealer/statement";
  if (kind === "refund-to-pay") return "/money";
  if (kind === "emergency-look") return "/emergency-look";
  if (kind === "class-proposed") return `/bench/${encodeURIComponent(reference)}/transport`;
  if (kind === "measurement-overdue") return `/bench/${encodeURIComponent(reference)}/receiving`;
  if (kind === "own-held-back") return "/dealer/notices";
  if (kind === "stop-opened" || kind === "early-signal") {
    const group = readNameOfGroup(reference);
    return group === null ? "/reliability/affected/sets" : `/reliability/affected?${new URLSearchParams({ ...group })}`;
  }
  if (kind === "set-held-back") return "/reliability/affected/sets";
  if (readIncidentReference(reference) !== null && isForDealer) return "/dealer";
  // Told before any return was sent: the desk's search says what became of the pack.
  if (!isForDealer && readSerial(reference).kind === "serial") return `/bench?find=${encodeURIComponent(reference)}`;
  if (isUnsentReference(reference)) return "/incidents#unsent";
  if (readIncidentReference(reference) !== null) return `/incidents/${encodeURIComponent(reference)}`;
  return `/${isForDealer ? "dealer/returns" : "bench"}/${encodeURIComponent(reference)}`;
}

export interface NoticeView {
  readonly id: string;
  readonly kind: NoticeKind;
  readonly reference: string;
  readonly queuedAt: Date;
  readonly subject: string;
  readonly paragraphs: readonly string[];
  readonly language: NoticeLanguage;
  /** Within this program. */
  readonly link: string;
}

/** Longer lists belong to the return they tell of. */
const LIST_LIMIT = 50;

/** What the dealer was told, newest first, in the language of its country: the page stands in for mail where none is set up. */
export async function listDealerNotices(actor: Actor): Promise<NoticeView[]> {
  const { dealerId } = actor;
  if (dealerId === null || !may(actor, "read-own-returns")) return [];
  const rows = await asActor(actor, (tx) =>
    tx.notice.findMany({
      where: { dealerId },
      select: {
        id: true,
        kind: true,
        reference: true,
        queuedAt: true,
        until: true,
        dealer: { select: { country: true } },
      },
      orderBy: { queuedAt: "desc" },
      take: LIST_LIMIT,
    }),
  );
  return rows.map(({ id, reference, queuedAt, until, dealer, ...row }) => {
    const kind = readNoticeKind(row.kind);
    const link = noticePath(kind, reference, true);
    const language = noticeLanguageOf(null, dealer?.country ?? null);
    const composed = composeNotice(kind, language, { reference, link, until: fromOptionalDateColumn(until) });
    const { subject } = composed;
    const paragraphs = noticeOnPage(composed, link);
    return { id, kind, reference, queuedAt, subject, paragraphs, language, link };
  });
}

export interface LetterInTrouble {
  readonly id: string;
  readonly kind: NoticeKind;
  readonly reference: string;
  readonly dealerName: string | null;
  readonly isGivenUp: boolean;
  readonly attempts: number;
  readonly lastProblem: string | null;
  readonly nextAttemptAt: Date;
}

export interface PostState {
  readonly isMailSetUp: boolean;
  readonly waiting: number;
  readonly sent: number;
  readonly troubled: readonly LetterInTrouble[];
}

/** How the post stands: what waits, what was given up, and why. For the maker's own people. */
export async function readPostState(actor: Actor): Promise<PostState | null> {
  if (!may(actor, "read-queue")) return null;
  return asActor(actor, async (tx) => {
    const troubled = await tx.noticeLetter.findMany({
      where: { OR: [{ state: "dead" }, { state: "waiting", attempts: { gt: 0 } }] },
      select: {
        id: true,
        state: true,
        attempts: true,
        lastProblem: true,
        nextAttemptAt: true,
        notice: { select: { kind: true, reference: true, dealer: { select: { name: true } } } },
      },
      orderBy: { nextAttemptAt: "desc" },
      take: LIST_LIMIT,
    });
    return {
      isMailSetUp: readEnvironment().smtpUrl !== null,
      waiting: await tx.noticeLetter.count({ where: { state: "waiting" } }),
      sent: await tx.noticeLetter.count({ where: { state: "sent" } }),
      troubled: troubled.map(({ notice, state, ...letter }) => ({
        ...letter,
        kind: readNoticeKind(notice.kind),
        reference: notice.reference,
        dealerName: notice.dealer?.name ?? null,
        isGivenUp: state === "dead",
      })),
    };
  });
}

export function readNoticeKind(stored: string): NoticeKind {
  const kind = noticeKinds.find((known) => known === stored);
  if (kind === undefined) throw new RangeError(`notice kind: ${stored} is unknown`);
  return kind;
}
