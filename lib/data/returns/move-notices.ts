import "server-only";
import type { NoticeKind } from "@/lib/notices/notice-kinds";
import { noticeWhenReady } from "@/lib/notices/notice-when-ready";
import { atTheWorks } from "@/lib/returns/custody-track";
import type { MoveName } from "@/lib/returns/move-names";
import { compareDates, isCalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Transaction } from "../database";
import { type NoticeToQueue, queueNotice } from "../notices/notices";
import { readSendingFacts } from "../transport/sending-facts";
import type { CarriedMove } from "./move-effects";

/** Tells the dealer of a move, in the transaction of the move: no move, no notice, and one notice for one version. */
export async function tellDealer(tx: Transaction, move: CarriedMove, dueAt: Date | null): Promise<void> {
  const { row } = move.loaded;
  // What the bench read out itself it need not be told.
  const isOwn = move.request.name === "add-readings" && move.actor.dealerId === null;
  const forService = isOwn ? null : whatServiceIsTold(move.request.name);
  if (forService !== null) await tellService(tx, move, forService);
  if (move.request.name === "approve" && move.outcome.to === "decision-proposed") await tellSecondPersons(tx, move);
  const told = whatToTell(move) ?? (await whatToTellOfApproval(tx, move, dueAt));
  if (told === null) return;
  const occasion = `version ${move.outcome.version}`;
  const to = { dealerId: row.dealerId };
  await queueNotice(tx, { ...told, reference: row.reference, returnId: row.id, occasion, to });
}

/** What the program proposes, or a dealer does not accept, waits for the service desk. */
function whatServiceIsTold(name: MoveName): NoticeKind | null {
  if (name === "propose-lapse") return "lapse-proposed";
  if (name === "prove-sale" || name === "choose-proof") return "cover-anew";
  if (name === "add-readings") return "readings-came";
  if (name === "come-back" || name === "await-again") return "class-needed";
  return name === "object" || name === "reopen-solved" ? "objected" : null;
}

async function tellService(
  tx: Transaction,
  { loaded: { row }, outcome }: CarriedMove,
  kind: NoticeKind,
): Promise<void> {
  const { reference, id: returnId } = row;
  const occasion = `version ${outcome.version}`;
  await queueNotice(tx, { kind, reference, returnId, occasion, to: { role: "service-lead" } });
}

/** A decision approved by one waits for a second person, who is a manager. */
async function tellSecondPersons(tx: Transaction, { loaded: { row }, outcome }: CarriedMove): Promise<void> {
  const about = { reference: row.reference, returnId: row.id, occasion: `version ${outcome.version}` };
  await queueNotice(tx, { ...about, kind: "second-needed", to: { role: "manager" } });
}

type Told = Pick<NoticeToQueue, "kind" | "until">;

/** With the day on which the leave ends that was given with the approval. */
async function whatToTellOfApproval(
  tx: Transaction,
  { request, loaded: { row }, now }: CarriedMove,
  dueAt: Date | null,
): Promise<Told | null> {
  if (request.name !== "approve-return" && request.name !== "renew-approval") return null;
  const { sendingEndsAt } = await readSendingFacts(tx, row.id, now);
  const ends = sendingEndsAt === null ? dueAt : new Date(sendingEndsAt);
  return ends === null ? null : { kind: "approved", until: civilDateAt(ends, row.dealer.timeZone) };
}

function whatToTell({ request, outcome, loaded, now }: CarriedMove): Told | null {
  const { row, standing } = loaded;
  switch (request.name) {
    case "ask":
    case "remind": {
      const dueOn = request.stated?.dueOn ?? standing.past.question?.dueOn ?? "";
      if (!isCalendarDate(dueOn)) return null;
      // A reminder after the day never asks for an answer by a day that has passed.
      const isPast = compareDates(dueOn, civilDateAt(now, row.dealer.timeZone)) < 0;
      return { kind: isPast ? "question-overdue" : "question", until: dueOn };
    }
    case "prove-sale":
    case "choose-proof":
      return { kind: "cover-anew" };
    case "lapse-approval":
      return { kind: "approval-ended" };
    case "receive":
      return { kind: "pack-received" };
    case "await-again":
      return { kind: "wrong-pack-came" };
    case "approve":
    case "approve-as-second":
      return outcome.to === "decided" ? { kind: "decided" } : null;
    case "ready-without-work":
    case "finish-work":
      return { kind: noticeWhenReady(standing.decidedRemedy, atTheWorks.includes(standing.custody)) };
    case "help":
      return { kind: "help" };
    case "solve-remotely":
      return { kind: "solved" };
    case "lapse-unanswered":
      return { kind: "lapsed" };
    case "merge":
      return { kind: "merged" };
    default:
      return null;
  }
}
