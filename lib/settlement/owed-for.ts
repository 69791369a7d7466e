import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import type { ReturnStatus } from "@/lib/returns/return-status";

/** A return as far as money for work on it depends on where it stands. */
export interface ReturnClaimedFor {
  readonly status: ReturnStatus;
  /** The remedy that was decided and stands. */
  readonly decidedRemedy: DecidableRemedy | null;
  /** The same work is approved or paid already under a return that was joined with this one, and was not taken back. */
  readonly isPaidWithJoined: boolean;
}

export type NotOwed = "return-ended" | "return-merged" | "return-refused" | "paid-with-joined";

/**
 * Why nothing is owed for work on a return now, or null. Common practice: what is refused is not paid, and two returns
 * of one complaint are not paid twice. A return that is revived, or a decision that is changed, is claimed for again.
 */
export function whyNotOwed({ status, decidedRemedy, isPaidWithJoined }: ReturnClaimedFor): NotOwed | null {
  if (status === "draft" || status === "withdrawn" || status === "lapsed") return "return-ended";
  if (isPaidWithJoined) return "paid-with-joined";
  if (status === "merged") return "return-merged";
  return decidedRemedy === "refuse" ? "return-refused" : null;
}

export const notOwedSentences: Readonly<Record<NotOwed, string>> = {
  "return-ended": "This return was not sent in, was withdrawn, or has lapsed: nothing is paid for it.",
  "return-merged": "This return was joined to another one: claim for that.",
  "paid-with-joined":
    "The same work is approved or paid under a return that was joined with this one: it is one complaint.",
  "return-refused": "What this return asked for was refused: nothing is paid for it unless the decision is changed.",
};
