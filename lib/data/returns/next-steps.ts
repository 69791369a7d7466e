import "server-only";
import type { Actor } from "@/lib/access/actor";
import { isSolvedThere } from "@/lib/returns/case-guards";
import { type CustodyPlace, nextPlaces } from "@/lib/returns/custody-track";
import type { GivenBefore } from "@/lib/returns/given-before";
import type { HoldState } from "@/lib/returns/legal-hold";
import { moveLabels } from "@/lib/returns/move-names";
import { type OtherStep, type OwnStep, otherSteps, ownSteps } from "@/lib/returns/next-steps";
import type { ReturnPast } from "@/lib/returns/return-standing";
import { readReturnStatus } from "@/lib/returns/return-status";
import { readTurn, type WhoseTurn } from "@/lib/returns/return-turn";
import { type SafetyState, safetyChoices } from "@/lib/returns/safety-track";
import type { SecondPersonReason } from "@/lib/returns/second-person";
import type { HistoryCheck } from "@/lib/returns/verify-history";
import type { Transaction } from "../database";
import { checkHistory } from "./history";
import { loadStanding } from "./return-standing";

export interface NextSteps {
  /** The moves open to this person, each with what its form asks, or why it is shut now. */
  readonly own: readonly OwnStep[];
  /** What others could do from here, and who. */
  readonly others: readonly OtherStep[];
  readonly turn: WhoseTurn;
  readonly dueAt: Date | null;
  readonly isOverdue: boolean;
  /** Minutes left on the maker's clock, which stands still while the dealer is asked; null when it runs. */
  readonly pausedMinutesLeft: number | null;
  readonly question: ReturnPast["question"];
  /** Something decided on this return was objected to, or taken up again. */
  readonly wasDecidedBefore: boolean;
  /** The dealer said that the help from a distance solved it. */
  readonly isSolvedThere: boolean;
  readonly proposal:
    | (NonNullable<ReturnPast["proposal"]> & { readonly secondPerson: readonly SecondPersonReason[] })
    | null;
  /** What the customer was given under this complaint before. */
  readonly given: GivenBefore;
  readonly safety: { readonly state: SafetyState; readonly version: number };
  /** The flag, or set apart where an open incident holds the pack. */
  readonly handledAs: SafetyState;
  /** What this person may set the flag to. */
  readonly safetyChoices: readonly SafetyState[];
  readonly custody: { readonly place: CustodyPlace; readonly version: number; readonly ways: readonly CustodyPlace[] };
  readonly hold: { readonly state: HoldState; readonly version: number };
  /** The bench keeps which tests were done, so that nobody has to state it. */
  readonly testsAreKept: boolean;
  /** Whether the chain of the history is whole; null for a dealer, who does not see every row of it. */
  readonly history: HistoryCheck | null;
}

/** What can be done next with a return, by this person and by others; null where it may not be seen. */
export async function readNextSteps(
  tx: Transaction,
  actor: Actor,
  reference: string,
  now: Date,
): Promise<NextSteps | null> {
  // What class, paper and packing of the way out rest on is the house's own: a dealer is told when it hands over.
  const told = actor.dealerId === null ? {} : { outgoing: null, quarantineMet: null };
  const loaded = await loadStanding(tx, reference, now, told);
  if (loaded === null) return null;
  const { standing, row, tracks } = loaded;
  const { proposal, question } = standing.past;
  const isSettled = row.settledBefore;
  const own = ownSteps(actor, standing).map((step) =>
    // After an objection it is nobody's: whoever takes it takes it from no one.
    step.name === "take-over" && row.takenByUserId === null ? { ...step, label: moveLabels.take } : step,
  );
  const dueAt = isSettled ? null : row.dueAt;
  return {
    own: isSettled ? own.filter(({ name }) => name === "reopen") : own,
    others: isSettled ? [] : otherSteps(actor, standing),
    turn: readTurn(row.turn),
    dueAt,
    isOverdue: dueAt !== null && dueAt < now,
    pausedMinutesLeft: row.pausedMinutesLeft,
    question,
    isSolvedThere: isSolvedThere(standing),
    wasDecidedBefore: standing.past.formerReviewerIds.length > 0,
    proposal: proposal === null ? null : { ...proposal, secondPerson: standing.secondPerson },
    given: { moneyIn: standing.known.refundPaidIn, unitSerial: standing.known.unitGiven },
    safety: { state: tracks.safety.state, version: tracks.safety.version },
    handledAs: tracks.handledAs,
    safetyChoices: safetyChoices(actor, tracks.safety.state),
    custody: {
      place: tracks.custody.state,
      version: tracks.custody.version,
      ways: nextPlaces(actor, tracks.custody.state, readReturnStatus(row.status)),
    },
    hold: { state: tracks.hold.state, version: tracks.hold.version },
    testsAreKept: standing.known.tests !== null,
    history: actor.dealerId === null ? checkHistory(await readChain(tx, row.id), row.lastMoveHash) : null,
  };
}

function readChain(tx: Transaction, returnId: string) {
  return tx.returnMove.findMany({ where: { returnId }, orderBy: { sequence: "asc" } });
}
