import type { Act } from "@/lib/access/may";
import { type NotOwed, notOwedSentences } from "./owed-for";

/** Where a line of money between maker and dealer stands. A reversal is a line of its own and goes the same way. */
export const lineStates = ["claimed", "checked", "approved", "in-statement", "paid", "refused"] as const;
export type LineState = (typeof lineStates)[number];

/** States in which a line waits for somebody of the house. */
export const waitingLineStates = ["claimed", "checked", "approved"] as const satisfies readonly LineState[];

/** States after which nothing of a line is outstanding. */
export const settledLineStates = ["paid", "refused"] as const satisfies readonly LineState[];

export const lineStateWords: Readonly<Record<LineState, string>> = {
  claimed: "Claimed",
  checked: "Checked",
  approved: "Approved",
  "in-statement": "In a statement",
  paid: "Paid",
  refused: "Refused",
};

export const lineMoveNames = ["check", "approve", "refuse", "put-in-statement", "pay", "reverse"] as const;
export type LineMoveName = (typeof lineMoveNames)[number];

interface LineMove {
  readonly from: readonly LineState[];
  /** Null for a reversal: the line stays as it is, and a new one with the opposite amount is claimed. */
  readonly to: LineState | null;
  readonly act: Act;
  readonly needsReason: boolean;
  /** Whether somebody else than the one who claimed the line must do it. */
  readonly byAnother: boolean;
  /** Not while the return it is claimed for is refused or over; what goes back to the maker always may. */
  readonly onlyWhatIsOwed?: true;
}

/** The one table of the moves of a line. Whatever is not here cannot happen; nothing paid is ever edited. */
export const lineMoves: Readonly<Record<LineMoveName, LineMove>> = {
  check: {
    from: ["claimed"],
    to: "checked",
    act: "check-money",
    needsReason: false,
    byAnother: false,
    onlyWhatIsOwed: true,
  },
  approve: {
    from: ["checked"],
    to: "approved",
    act: "approve-money",
    needsReason: false,
    byAnother: true,
    onlyWhatIsOwed: true,
  },
  // What is approved is refused only where it is not owed any more: its return was refused, joined or given up since.
  refuse: {
    from: ["claimed", "checked", "approved"],
    to: "refused",
    act: "approve-money",
    needsReason: true,
    byAnother: true,
  },
  "put-in-statement": {
    from: ["approved"],
    to: "in-statement",
    act: "check-money",
    needsReason: false,
    byAnother: false,
    onlyWhatIsOwed: true,
  },
  // What is in a statement and not owed any more is paid with it only once its reversal was approved: a claim may be refused.
  pay: {
    from: ["in-statement"],
    to: "paid",
    act: "check-money",
    needsReason: false,
    byAnother: false,
    onlyWhatIsOwed: true,
  },
  reverse: { from: ["in-statement", "paid"], to: null, act: "check-money", needsReason: true, byAnother: false },
};

export interface LineStanding {
  readonly state: LineState;
  readonly version: number;
  readonly claimedByUserId: string;
  /** Who checked it last; null while nobody did. */
  readonly checkedByUserId: string | null;
  /** It is more than one person passes (`line-limit.ts`). */
  readonly isAboveLimit: boolean;
  /** Its reversal was approved. */
  readonly isReversed: boolean;
  /** A reversal of it was claimed and neither approved nor refused yet. */
  readonly isReversalOpen: boolean;
  readonly isReversal: boolean;
  /** Why nothing is owed for its return now; null where something may be. */
  readonly notOwed: NotOwed | null;
  /** The complaint came after the time that counts between maker and dealer, or nobody can tell that it came within. */
  readonly isOutsideSettlement: boolean;
}

export type LineRefusal =
  | "someone-changed-this"
  | "not-from-here"
  | "reason-missing"
  | "same-person"
  | "checker-approves"
  | "outside-settlement"
  | "reversed-already"
  | "reversal-open"
  | "reversal-of-a-reversal"
  | NotOwed;

export const lineRefusalSentences: Readonly<Record<LineRefusal, string>> = {
  ...notOwedSentences,
  "someone-changed-this": "Somebody moved this line while you had it open. Look at it as it is now.",
  "not-from-here": "The line has moved on, so this step is no longer open.",
  "reason-missing": "Write the reason: the dealer reads it.",
  "outside-settlement":
    "The complaint came after the time that counts between maker and dealer, or it cannot be told yet whether it did. Write why it is paid all the same.",
  "checker-approves":
    "You checked this line, and it is above the amount that one person passes, alone or with what you passed of this return already, or in another currency than that limit. A colleague approves it.",
  "same-person": "Whoever claimed a line does not approve it. Ask a colleague.",
  "reversed-already": "This line is reversed already.",
  "reversal-open": "A reversal of this line waits to be checked and approved. It is approved or refused first.",
  "reversal-of-a-reversal": "A reversal is not reversed: let the work be claimed anew.",
};

/** Why a move of a line is not open, or null where it is. Whether the role allows it is asked of the table of acts. */
export function refusalOfLineMove(
  standing: LineStanding,
  move: {
    readonly name: LineMoveName;
    readonly byUserId: string;
    readonly seenVersion: number;
    readonly reason: string;
  },
): LineRefusal | null {
  const { from, needsReason, byAnother, onlyWhatIsOwed } = lineMoves[move.name];
  if (move.seenVersion !== standing.version) return "someone-changed-this";
  if (!from.includes(standing.state)) return "not-from-here";
  if (move.name === "refuse" && standing.state === "approved" && (standing.isReversal || standing.notOwed === null))
    return "not-from-here";
  const takesBack = standing.isReversal || (move.name === "pay" && standing.isReversed);
  // What was approved before its return was joined to another is owed for the complaint that goes on there.
  const isJoinedSince =
    standing.notOwed === "return-merged" && (move.name === "put-in-statement" || move.name === "pay");
  if (onlyWhatIsOwed && !takesBack && !isJoinedSince && standing.notOwed !== null) return standing.notOwed;
  if (move.name === "reverse" && standing.isReversal) return "reversal-of-a-reversal";
  if (move.name === "reverse" && standing.isReversed) return "reversed-already";
  if (move.name === "reverse" && standing.isReversalOpen) return "reversal-open";
  const isPaidAllTheSame = move.name === "approve" && standing.isOutsideSettlement && !standing.isReversal;
  if (isPaidAllTheSame && move.reason.trim() === "") return "outside-settlement";
  if (needsReason && move.reason.trim() === "") return "reason-missing";
  if (byAnother && move.byUserId === standing.claimedByUserId) return "same-person";
  const hasChecked = standing.isAboveLimit && move.byUserId === standing.checkedByUserId;
  return move.name === "approve" && hasChecked ? "checker-approves" : null;
}
