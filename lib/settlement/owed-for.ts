import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import type { ReturnStatus } from "@/lib/returns/return-status";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import type { CoverOutcome } from "@/lib/warranty/cover";

/** What is on record of a return that work may be claimed for. */
export interface WorkOnRecord {
  readonly packWasSent: boolean;
  readonly packWasReceived: boolean;
  /** Another pack was handed over in its place. */
  readonly packWasExchanged: boolean;
  readonly helpWasGiven: boolean;
}

type NotDone = "not-sent" | "not-received" | "not-exchanged" | "no-help";

/** A return as far as money for work on it depends on where it stands. */
export interface ReturnClaimedFor {
  readonly status: ReturnStatus;
  /** The remedy that was decided and stands. */
  readonly decidedRemedy: DecidableRemedy | null;
  /** The same work is approved or paid already under a return that was joined with this one, and was not taken back. */
  readonly isPaidWithJoined: boolean;
  readonly done: WorkOnRecord;
}

/** What a dealer claims money for. */
export interface WorkClaimed {
  /** labour, freight or reversal. */
  readonly kind: string;
  readonly operation: string;
}

export type NotOwed = NotDone | "return-ended" | "return-merged" | "return-refused" | "paid-with-joined";

/**
 * Why nothing is owed for work on a return now, or null. Common practice: what is refused is not paid, and two returns
 * of one complaint are not paid twice. A return that is revived, or a decision that is changed, is claimed for again.
 */
export function whyNotOwed(
  { status, decidedRemedy, isPaidWithJoined, done }: ReturnClaimedFor,
  work: WorkClaimed,
): NotOwed | null {
  if (status === "draft" || status === "withdrawn" || status === "lapsed") return "return-ended";
  if (isPaidWithJoined) return "paid-with-joined";
  if (status === "merged") return "return-merged";
  return decidedRemedy === "refuse" ? "return-refused" : whyNotDone(work, done);
}

/** What is claimed has to have happened: the history says so, not the claim. Taking in and reading out belong to every return. */
function whyNotDone({ kind, operation }: WorkClaimed, done: WorkOnRecord): NotDone | null {
  if (kind === "freight") return done.packWasReceived ? null : "not-received";
  if (kind !== "labour") return null;
  switch (operation) {
    case "pack-for-carrier":
      return done.packWasSent || done.packWasReceived ? null : "not-sent";
    case "exchange":
      return done.packWasExchanged ? null : "not-exchanged";
    case "remote-fix":
      return done.helpWasGiven ? null : "no-help";
    default:
      return null;
  }
}

/**
 * Whether a complaint came after the time that counts between maker and dealer, or nobody can tell that it came within: then whoever
 * approves money for it says why. A field action covers whatever the dates say.
 */
export function isOutsideSettlement(cover: {
  readonly outcome: CoverOutcome;
  readonly settlementEndsOn: CalendarDate | null;
  readonly toldOn: CalendarDate;
}): boolean {
  if (cover.outcome === "covered-by-field-action") return false;
  if (cover.outcome === "outside-makers-guarantee") return true;
  if (cover.outcome === "cannot-tell-yet" && cover.settlementEndsOn === null) return true;
  return cover.settlementEndsOn !== null && compareDates(cover.toldOn, cover.settlementEndsOn) > 0;
}

export const notOwedSentences: Readonly<Record<NotOwed, string>> = {
  "return-ended": "This return was not sent in, was withdrawn, or has lapsed: nothing is paid for it.",
  "not-sent": "The pack was not handed to a carrier under this return, so nothing was packed for one.",
  "not-received": "No pack has arrived at the works under this return, so there is no freight to pay.",
  "not-exchanged": "No other pack was handed over under this return, so none was exchanged.",
  "no-help": "The maker advised nothing under this return that could have been carried out.",
  "return-merged": "This return was joined to another one: claim for that.",
  "paid-with-joined":
    "The same work is approved or paid under a return that was joined with this one: it is one complaint.",
  "return-refused": "What this return asked for was refused: nothing is paid for it unless the decision is changed.",
};
