import type { Actor } from "@/lib/access/actor";
import { type Act, may } from "@/lib/access/may";
import type { DecidableRemedy } from "./decision.schema";

export const returnStatuses = ["sent-in", "in-review", "decided", "withdrawn"] as const;
export type ReturnStatus = (typeof returnStatuses)[number];

export const moveNames = ["lodge", "take", "decide", "withdraw"] as const;
export type MoveName = (typeof moveNames)[number];

/** A return as it stands in the store. */
export interface ReturnStanding {
  /** Null before it is lodged. */
  readonly status: ReturnStatus | null;
  /** Rises by one with every move; 0 before the first. */
  readonly version: number;
  readonly dealerId: string;
  /** A safety flag on the pack that nobody has lowered. */
  readonly isSafetyOpen: boolean;
}

export interface MoveRequest {
  readonly name: MoveName;
  readonly reason: string;
  /** The version on the screen of whoever moves. */
  readonly seenVersion: number;
  /** What is decided; with the move "decide" only. */
  readonly remedy?: DecidableRemedy | undefined;
}

export type MoveRefusal =
  | "not-allowed"
  | "someone-changed-this"
  | "not-from-here"
  | "reason-missing"
  | "remedy-missing"
  | "safety-open";

export type MoveOutcome =
  | { readonly kind: "moved"; readonly from: ReturnStatus | null; readonly to: ReturnStatus; readonly version: number }
  | { readonly kind: "refused"; readonly why: MoveRefusal; readonly sentence: string };

interface Move {
  readonly from: readonly (ReturnStatus | null)[];
  readonly to: ReturnStatus;
  readonly act: Act;
  /** Whether the history row must carry a reason in somebody's words. */
  readonly needsReason: boolean;
  readonly guard: (standing: ReturnStanding, request: MoveRequest) => MoveRefusal | null;
}

const unguarded = () => null;

/** Remedies that put the pack back into use without anyone having worked on it. */
const handedBackUntouched: readonly DecidableRemedy[] = ["return-as-is", "remote-fix"];

/** The one table of the moves of a return. Whatever is not here cannot happen; a correction is a new move, never an edit. */
export const moves: Readonly<Record<MoveName, Move>> = {
  lodge: { from: [null], to: "sent-in", act: "lodge-return", needsReason: false, guard: unguarded },
  take: { from: ["sent-in"], to: "in-review", act: "take-return", needsReason: false, guard: unguarded },
  decide: {
    from: ["in-review"],
    to: "decided",
    act: "propose-decision",
    needsReason: true,
    guard: ({ isSafetyOpen }, { remedy }) => {
      if (remedy === undefined) return "remedy-missing";
      return isSafetyOpen && handedBackUntouched.includes(remedy) ? "safety-open" : null;
    },
  },
  withdraw: {
    from: ["sent-in", "in-review"],
    to: "withdrawn",
    act: "withdraw-return",
    needsReason: true,
    // A pack that showed a danger sign is not forgotten because somebody takes the complaint back.
    guard: ({ isSafetyOpen }) => (isSafetyOpen ? "safety-open" : null),
  },
};

const sentences: Readonly<Record<MoveRefusal, string>> = {
  "not-allowed": "This is not yours to do.",
  "someone-changed-this":
    "Somebody changed this return while you had it open. Look at it as it is now, then decide again.",
  "not-from-here": "The return has moved on, so this step is no longer open.",
  "reason-missing": "Write the reason: the next reader has only this.",
  "remedy-missing": "Choose what is to be done.",
  "safety-open": "A danger sign on this pack is still open. Isolate it, or have the sign judged first.",
};

/**
 * Makes a move, or says why not. The store must carry it out only if the version is still the one given here, so that
 * of two people who move at once the second is told rather than overruled.
 */
export function moveReturn(actor: Actor, standing: ReturnStanding, request: MoveRequest): MoveOutcome {
  const why = refusalOf(actor, standing, request);
  if (why !== null) return { kind: "refused", why, sentence: sentences[why] };
  return { kind: "moved", from: standing.status, to: moves[request.name].to, version: standing.version + 1 };
}

/** The moves that are open to somebody now, for the buttons of a page; guards still have their say. */
export function openMoves(actor: Actor, standing: Pick<ReturnStanding, "status" | "dealerId">): MoveName[] {
  return moveNames.filter(
    (name) => isTheirs(actor, standing.dealerId, name) && moves[name].from.includes(standing.status),
  );
}

function refusalOf(actor: Actor, standing: ReturnStanding, request: MoveRequest): MoveRefusal | null {
  const { from, needsReason, guard } = moves[request.name];
  if (!isTheirs(actor, standing.dealerId, request.name)) return "not-allowed";
  if (request.seenVersion !== standing.version) return "someone-changed-this";
  if (!from.includes(standing.status)) return "not-from-here";
  if (needsReason && request.reason.trim() === "") return "reason-missing";
  return guard(standing, request);
}

function isTheirs(actor: Actor, dealerId: string, name: MoveName): boolean {
  return may(actor, moves[name].act) && (actor.dealerId === null || actor.dealerId === dealerId);
}
