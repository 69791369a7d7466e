import { isProgram, type Mover } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { caseMoves } from "./case-moves";
import type { CustodyPlace } from "./custody-track";
import type { Decision } from "./decision.schema";
import { type MoveName, moveNames } from "./move-names";
import { type MoveRefusal, moveRefusals } from "./move-refusal";
import type { StatedFacts } from "./return-facts";
import type { ReturnStanding } from "./return-standing";
import type { ReturnStatus } from "./return-status";
import { destinationOf, placeAfter } from "./where-moves-lead";

export interface MoveRequest {
  readonly name: MoveName;
  readonly reason: string;
  /** The version on the screen of whoever moves. */
  readonly seenVersion: number;
  readonly stated?: StatedFacts | undefined;
  readonly decision?: Decision | undefined;
}

export type MoveOutcome =
  | {
      readonly kind: "moved";
      readonly from: ReturnStatus | null;
      readonly to: ReturnStatus;
      readonly version: number;
      /** Where the pack is after the move; null where the move does not touch it. */
      readonly custodyTo: CustodyPlace | null;
    }
  | { readonly kind: "refused"; readonly why: MoveRefusal; readonly sentence: string };

/**
 * Makes a move, or says why not. The store must carry it out only if the version is still the one given here, so that
 * of two people who move at once the second is told rather than overruled.
 */
export function moveReturn(actor: Mover, standing: ReturnStanding, request: MoveRequest): MoveOutcome {
  const to = destinationOf(request.name, standing);
  const why = refusalOf(actor, standing, request) ?? (to === null ? "not-from-here" : null);
  if (why !== null || to === null) {
    const refusal = why ?? "not-from-here";
    return { kind: "refused", why: refusal, sentence: moveRefusals[refusal] };
  }
  return {
    kind: "moved",
    from: standing.status,
    to,
    version: standing.version + 1,
    custodyTo: placeAfter(request.name, standing),
  };
}

/** The moves that are open to somebody now, for the forms of a page; guards still have their say. */
export function openMoves(actor: Mover, standing: Pick<ReturnStanding, "status" | "dealerId">): MoveName[] {
  return moveNames.filter(
    (name) => isTheirs(actor, standing.dealerId, name) && caseMoves[name].from.includes(standing.status),
  );
}

/**
 * Why a move that is open to somebody could not be made now whatever the form says: what it states is taken as given.
 * Null where filling in the form is enough.
 */
export function whatStandsInTheWay(actor: Mover, standing: ReturnStanding, name: MoveName): MoveRefusal | null {
  const move = { actor, standing, stated: everythingStated(standing), decision: standInDecision(name) };
  for (const guard of caseMoves[name].guards) {
    const why = guard(move);
    if (why !== null) return why;
  }
  return null;
}

function refusalOf(actor: Mover, standing: ReturnStanding, request: MoveRequest): MoveRefusal | null {
  const { from, needsReason, guards } = caseMoves[request.name];
  if (!isTheirs(actor, standing.dealerId, request.name)) return "not-allowed";
  if (request.seenVersion !== standing.version) return "someone-changed-this";
  if (!from.includes(standing.status)) return "not-from-here";
  if (needsReason && request.reason.trim() === "") return "reason-missing";
  const move = { actor, standing, stated: request.stated ?? {}, decision: request.decision ?? null };
  for (const guard of guards) {
    const why = guard(move);
    if (why !== null) return why;
  }
  return null;
}

function isTheirs(actor: Mover, dealerId: string, name: MoveName): boolean {
  const { act, orAct, byTime } = caseMoves[name];
  if (isProgram(actor)) return byTime === true;
  const mayMove = (act !== null && may(actor, act)) || (orAct !== undefined && may(actor, orAct));
  return mayMove && (actor.dealerId === null || actor.dealerId === dealerId);
}

/** As if every question of the form had been answered in favour of the move. */
function everythingStated({ serial, decidedRemedy, known, now, timeZone }: ReturnStanding): StatedFacts {
  return {
    dueOn: "9999-12-31",
    provenSoldOn: "2000-01-01",
    scannedSerial: serial,
    quarantineMet: true,
    tests: "done",
    partsAndPlan: "stated",
    reservedSerial: "stated",
    releaseSignature: "stated",
    takenAwayBy: "stated",
    outgoingSerial: decidedRemedy === "replace" ? (known.reservedSerial ?? "stated") : serial,
    letterGivenOn: civilDateAt(now, timeZone),
    deliveredOn: civilDateAt(now, timeZone),
    deliveryProof: "stated as asked",
    packIsSafe: true,
    remedyDelivered: true,
    moneySettled: true,
    noticesGiven: true,
    logWasAskedFor: true,
    duplicateOf: "stated",
    confirmedFault: "unknown",
  };
}

/** A decision nothing could be said against, for the moves that carry one; setting apart is always in order. */
function standInDecision(name: MoveName): Decision | null {
  if (name !== "propose" && name !== "solve-remotely") return null;
  const remedy = name === "propose" ? "isolate" : "remote-fix";
  return { remedy, confirmedFault: "unknown", reason: "", seenVersion: 0 };
}
