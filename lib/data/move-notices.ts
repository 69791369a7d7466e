import "server-only";
import { compareDates, isCalendarDate } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Transaction } from "./database";
import type { CarriedMove } from "./move-effects";
import { type NoticeToQueue, queueNotice } from "./notices";

/** Tells the dealer of a move, in the transaction of the move: no move, no notice, and one notice for one version. */
export async function tellDealer(tx: Transaction, move: CarriedMove, dueAt: Date | null): Promise<void> {
  const { row } = move.loaded;
  if (move.request.name === "propose-lapse") await tellService(tx, move);
  const told = whatToTell(move, dueAt);
  if (told === null) return;
  const occasion = `version ${move.outcome.version}`;
  const to = { dealerId: row.dealerId };
  await queueNotice(tx, { ...told, reference: row.reference, returnId: row.id, occasion, to });
}

/** What the program proposes waits for the service desk. */
function tellService(tx: Transaction, { loaded: { row }, outcome }: CarriedMove): Promise<void> {
  const { reference, id: returnId } = row;
  const occasion = `version ${outcome.version}`;
  return queueNotice(tx, { kind: "lapse-proposed", reference, returnId, occasion, to: { role: "service-lead" } });
}

type Told = Pick<NoticeToQueue, "kind" | "until">;

function whatToTell({ request, outcome, loaded, now }: CarriedMove, dueAt: Date | null): Told | null {
  const { row, standing } = loaded;
  const dueDay = dueAt === null ? undefined : civilDateAt(dueAt, row.dealer.timeZone);
  switch (request.name) {
    case "ask":
    case "remind": {
      const dueOn = request.stated?.dueOn ?? standing.past.question?.dueOn ?? "";
      if (!isCalendarDate(dueOn)) return null;
      // A reminder after the day never asks for an answer by a day that has passed.
      const isPast = compareDates(dueOn, civilDateAt(now, row.dealer.timeZone)) < 0;
      return { kind: isPast ? "question-overdue" : "question", until: dueOn };
    }
    case "approve-return":
    case "renew-approval": {
      const ends = standing.known.sendingEndsAt;
      const until = ends === null ? dueDay : civilDateAt(new Date(ends), row.dealer.timeZone);
      return until === undefined ? null : { kind: "approved", until };
    }
    case "lapse-approval":
      return { kind: "approval-ended" };
    case "receive":
      return { kind: "pack-received" };
    case "approve":
    case "approve-as-second":
      return outcome.to === "decided" ? { kind: "decided" } : null;
    case "ready-without-work":
    case "finish-work":
      return { kind: "sent-back" };
    default:
      return null;
  }
}
