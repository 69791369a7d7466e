import { isAnswerOverdue } from "./case-guards";
import { hasSendingEnded, waitsForTheHouse } from "./class-refusal";
import { isWithTheMaker } from "./custody-track";
import type { MoveRequest } from "./return-moves";
import { isWithinDays } from "./return-settings.schema";
import type { ReturnStanding } from "./return-standing";
import type { ReturnStatus } from "./return-status";
import type { WhoseTurn } from "./return-turn";
import { isSetApart } from "./safety-track";

/** Where a return can stand when time alone asks for a move. */
export const statusesThatTimeMoves: readonly ReturnStatus[] = [
  "more-information-needed",
  "return-approved",
  "handed-back",
];

type Due = Omit<MoveRequest, "seenVersion">;

/**
 * The move that time asks for now, or null. The table of moves has the last word: this says only that the time has come,
 * and what the history says of why. Nobody loses a permission for what they could not do: it ends in the dealer's turn alone.
 */
export function dueMove(standing: ReturnStanding, turn: WhoseTurn): Due | null {
  switch (standing.status) {
    case "more-information-needed":
      return dueForQuestion(standing);
    case "return-approved":
      return turn === "dealer" ? dueForApproval(standing) : null;
    case "handed-back":
      return dueForClosing(standing);
    default:
      return null;
  }
}

/** Repeated so often, then proposed to lapse; service confirms. A pack set apart never lapses, but its dealer is reminded. */
function dueForQuestion(standing: ReturnStanding): Due | null {
  const { past, settings, safety, custody, now } = standing;
  const { question } = past;
  if (question === null || question.lapseProposedAt !== null) return null;
  if (question.reminders < settings.remindersBeforeLapse) {
    if (isWithinDays(new Date(question.lastAskedAt), settings.remindEveryDays, now)) return null;
    return { name: "remind", reason: `Reminder ${question.reminders + 1} of ${settings.remindersBeforeLapse}.` };
  }
  if (!isAnswerOverdue(standing) || isSetApart(safety) || isWithTheMaker(custody)) return null;
  return {
    name: "propose-lapse",
    reason: `No answer by ${question.dueOn}, after ${question.reminders} reminders. Service decides.`,
  };
}

/** The permission to send ends with its own day, and never while the dealer could not have used it. */
function dueForApproval(standing: ReturnStanding): Due | null {
  const { known, now } = standing;
  if (!hasSendingEnded(known, now) || waitsForTheHouse(standing)) return null;
  return { name: "lapse-approval", reason: "The permission to send ended. Service can renew it." };
}

/** Only on what the program knows: where money or remedy would have to be stated, a person closes. */
function dueForClosing({ past, known, settings, now }: ReturnStanding): Due | null {
  if (past.handedBackAt === null || isWithinDays(new Date(past.handedBackAt), settings.closeAfterDays, now))
    return null;
  if (known.remedyDelivered !== true || known.moneySettled !== true) return null;
  return { name: "close", reason: `Handed back more than ${settings.closeAfterDays} days ago; money settled.` };
}

/** Whether the dealer is to be told that the permission to send ends soon. */
export function endsSoon(standing: ReturnStanding): boolean {
  const { status, known, settings, now } = standing;
  if (status !== "return-approved" || known.sendingEndsAt === null || waitsForTheHouse(standing)) return false;
  const ends = new Date(known.sendingEndsAt);
  return ends > now && isWithinDays(now, settings.expiryReminderDays, ends);
}
