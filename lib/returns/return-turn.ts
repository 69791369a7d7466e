import type { DecidableRemedy } from "./decision.schema";
import type { ReturnStatus } from "./return-status";

const turns = ["dealer", "maker", "nobody"] as const;
/** Whose move the return waits for. */
export type WhoseTurn = (typeof turns)[number];

export const turnWords: Readonly<Record<WhoseTurn, string>> = {
  dealer: "The dealer's turn",
  maker: "The maker's turn",
  nobody: "Nobody's turn",
};

export function readTurn(stored: string): WhoseTurn {
  const turn = turns.find((known) => known === stored);
  if (turn === undefined) throw new RangeError(`turn: ${stored} is unknown`);
  return turn;
}

const turnAt: Readonly<Record<ReturnStatus, WhoseTurn>> = {
  draft: "dealer",
  "sent-in": "maker",
  "more-information-needed": "dealer",
  "in-review": "maker",
  "remote-help": "dealer",
  "return-approved": "dealer",
  "return-expected": "maker",
  "at-the-works": "maker",
  "under-test": "maker",
  "decision-proposed": "maker",
  decided: "maker",
  "work-in-progress": "maker",
  "ready-to-hand-back": "dealer",
  "handed-back": "maker",
  closed: "nobody",
  "solved-remotely": "nobody",
  withdrawn: "nobody",
  lapsed: "nobody",
  merged: "nobody",
};

/** Whose turn it is where a move that leads there does not say otherwise (`turn` in case-move.ts). */
export function whoseTurn(status: ReturnStatus): WhoseTurn {
  return turnAt[status];
}

export interface Turn {
  /** Whose turn it is, for a person who waits. */
  readonly turn: string;
  /** What happens next, as one sentence. */
  readonly next: string;
}

/** What the dealer reads where the next move is the dealer's own. */
export const YOUR_TURN = "Your turn";

const afterDecision: Readonly<Record<DecidableRemedy, string>> = {
  repair: "The pack is to be repaired. Wait for the transport class and packing before you send anything.",
  replace: "A replacement is to be sent. Keep the old pack as it is until you are told how to send or hand it over.",
  refund: "The price is to be refunded or credited. Keep the pack as it is until you are told what happens with it.",
  "remote-fix": "This can be put right at your workshop. The service desk clears it; then do what the decision says.",
  "return-as-is":
    "The pack goes back unchanged, with the reason written in the decision. The service desk clears it first.",
  refuse: "It was refused, with the reason written in the decision. You may object; legal rights are not affected.",
  redirect: "Another maker's part is the cause. The decision says whom to turn to; legal rights are not affected.",
  dispose: "The pack is to be disposed of safely. Keep it set apart until it is collected.",
  isolate: "Keep the pack set apart and touch nothing. The maker arranges what happens with it.",
};

const ready = "It is ready. Confirm the receipt when you have it.";
/** Where nothing comes to the dealer that could be received. */
const readyAfter: Readonly<Partial<Record<DecidableRemedy, string>>> = {
  "remote-fix": "Do what the decision says at your workshop, then confirm that the customer has the pack.",
  refund: "The refund is agreed. Confirm here; finance pays it, and you see it when it is paid.",
  dispose: "The pack is taken care of. Confirm here, and the return is closed after the time in which you may object.",
};

/** What the dealer reads while what goes out to the dealer still lies with us. */
const NOT_SENT_TO_YOU_YET =
  "It is ready. We pack it and give it to a carrier next; confirm the receipt when you have it.";

/** What the dealer reads while a pack that is allowed to be sent waits for the house, and not for its own hands. */
const NOT_TO_BE_SENT_YET =
  "Keep the pack as it is and send nothing yet. The service desk says first how it travels; then you read here how to pack it.";

/** Where it is usually the dealer's turn, and is ours as the packs lie and what is known of them. */
const nextWhileOurs: Readonly<Partial<Record<ReturnStatus, string>>> = {
  "return-approved": NOT_TO_BE_SENT_YET,
  "ready-to-hand-back": NOT_SENT_TO_YOU_YET,
};

interface TurnFacts {
  readonly status: ReturnStatus;
  readonly danger: boolean;
  readonly remedy: DecidableRemedy | null;
  /** Whose turn the return says it is. */
  readonly turn: WhoseTurn;
}

/** Whose turn it is and what comes next, as the dealer reads it. */
export function turnForDealer({ status, danger, remedy, turn }: TurnFacts): Turn {
  // What the customer was given before, or a replacement that lies at the counter.
  if (status === "handed-back" && turn === "dealer")
    return { turn: YOUR_TURN, next: "Something is still to come back from you: see below what, and until when." };
  const next = (turn === "maker" ? nextWhileOurs[status] : undefined) ?? nextForDealer(status, danger, remedy);
  // What has ended is nobody's turn, whatever was kept with it.
  const whose = whoseTurn(status) === "nobody" ? "nobody" : turn;
  return { turn: whose === "dealer" ? YOUR_TURN : turnWords[whose], next };
}

function nextForDealer(status: ReturnStatus, danger: boolean, remedy: DecidableRemedy | null): string {
  switch (status) {
    case "draft":
      return "It is not sent yet. Finish it and send it.";
    case "sent-in":
      return danger
        ? "Danger signs come first in the queue. Keep the pack set apart; the service desk calls you."
        : "The service desk looks at it next. Keep the pack as it is and send nothing yet.";
    case "more-information-needed":
      return "The service desk has a question, and waits for your answer.";
    case "in-review":
      return remedy === null
        ? "A technician is looking at it. Keep the pack as it is and send nothing yet."
        : "Somebody else is looking at it anew. Until that is decided the earlier decision rests.";
    case "remote-help":
      return "Do what the service desk says, then tell them whether it helped.";
    case "return-approved":
      return "You may send it. Pack it as you are told, then mark it as handed to the carrier.";
    case "return-expected":
      return "It is on its way to the maker.";
    case "at-the-works":
      return "It has arrived and is being watched before anybody works on it.";
    case "under-test":
      return "It is being tested.";
    case "decision-proposed":
      return "A decision is proposed; a second pair of eyes looks at it.";
    case "decided":
      return remedy === null ? "It is decided." : afterDecision[remedy];
    case "work-in-progress":
      return "The work that was decided is being done.";
    case "ready-to-hand-back":
      return remedy === null ? ready : (readyAfter[remedy] ?? ready);
    case "handed-back":
      return "You have it. The return is closed after the time in which you may object.";
    case "closed":
      return "Everything is done.";
    case "solved-remotely":
      return "It was solved without sending the pack. If it does not last, open it again.";
    case "withdrawn":
      return "This return was withdrawn. Nothing more happens.";
    case "lapsed":
      return "This return has lapsed, and what you sent stays here. Where a question was not answered, answer it below and the return goes on. Where only the time to send it ran out, the service desk can give leave again.";
    case "merged":
      return "This return was joined with another one, which goes on.";
  }
}
