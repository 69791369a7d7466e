import type { Actor } from "@/lib/access/actor";
import { asSystem } from "@/lib/data/database";
import type { Serial } from "@/lib/packs/serial";
import type { CustodyPlace } from "@/lib/returns/custody-track";
import type { Decision } from "@/lib/returns/decision.schema";
import type { HoldState } from "@/lib/returns/legal-hold";
import type { RemedyState } from "@/lib/returns/remedy-track";
import type { ReturnStatus } from "@/lib/returns/return-status";
import type { SafetyState } from "@/lib/returns/safety-track";
import type { LineState } from "@/lib/settlement/line-moves";
import type { SmallFleet } from "@/tests/support/small-fleet";

export const people = [
  "berlin",
  "sydney",
  "bench",
  "bench2",
  "lead",
  "manager",
  "manager2",
  "safetyOfficer",
  "finance",
] as const;
export type Who = (typeof people)[number];

/** Those of them who work on packs. */
export const atTheBench: readonly Who[] = ["bench", "bench2", "lead"];

/** What outlives one return: who there is, the packs in the store, the return that reaches for the same ones. */
export interface World {
  readonly fleet: SmallFleet;
  readonly planId: string;
  /** Reference of a return decided as a replacement, which reaches for the same packs. */
  readonly rival: string;
  /** Packs that came to the store, newest last. */
  readonly units: Serial[];
  /** Unit and the return it is kept for, as the test believes; one that was handed over is kept for nobody any more. */
  readonly keptFor: Map<Serial, string>;
  readonly handedOver: Set<Serial>;
  /** Reversals that were approved and wait for a statement. */
  readonly approvedReversals: Set<string>;
  /** What happened in any run, so that a run that goes nowhere proves nothing unnoticed. */
  readonly made: Set<string>;
}

/** What the test itself believes of one return and its pack; whatever the program does must fit it. */
export interface Belief {
  status: ReturnStatus;
  version: number;
  safety: SafetyState;
  safetyVersion: number;
  custody: CustodyPlace;
  custodyVersion: number;
  hold: HoldState;
  holdVersion: number;
  /** Mandatory tests nobody has made or left out since the pack came to the bench. */
  openTests: string[];
  isCoded: boolean;
  /** The lead has left out what must be tried before anybody says that no fault was found. */
  mayFindNothing: boolean;
  proposed: Decision["remedy"] | null;
  /** What is decided and stands. */
  decided: Decision["remedy"] | null;
  /** The customer has the letter of the decision that stands: from then on the time to object runs. */
  hasLetter: boolean;
  /** Under all decisions. */
  lettersGiven: number;
  /** Who worked on the pack under the decision that stands. */
  workers: Who[];
  /** Verdicts of the re-test since the last work. */
  retest: Map<string, "inside" | "outside">;
  isReleased: boolean;
  remedy: RemedyState;
  remedyVersion: number;
  /** A refund is paid once under the decision that stands; of a later one the rest alone, which the tables are asked for. */
  isPaidUnderDecision: boolean;
  /** Under all decisions. */
  refundsPaid: number;
  /** How often the same work was claimed and taken as claimed. */
  claims: number;
  line: {
    readonly id: string;
    readonly claimedBy: Who;
    state: LineState;
    version: number;
    /** Two people took it back. */
    isReversed: boolean;
    /** Claimed and neither approved nor refused yet. */
    reversal: { readonly id: string; readonly claimedBy: Who; state: "claimed" | "checked"; version: number } | null;
    statement: number | null;
    transfer: string | null;
  } | null;
}

export interface Real {
  readonly world: World;
  readonly reference: string;
  /** Of the returned pack. */
  readonly serial: string;
  /** Another return of the same complaint, lodged under the pack that replaced this one; null where there is none. */
  readonly twin: string | null;
}

export const mandatory = ["outside", "insulation"];

export const actorOf = ({ fleet }: World, who: Who): Actor => fleet[who];

/** The pack kept for a return, as the test believes; null where none is. */
export function keptUnit({ keptFor }: World, reference: string): Serial | null {
  return [...keptFor].find(([, of]) => of === reference)?.[0] ?? null;
}

export function whereItStands(reference: string): Promise<{ readonly status: string; readonly version: number }> {
  return asSystem((tx) =>
    tx.return.findUniqueOrThrow({ where: { reference }, select: { status: true, version: true } }),
  );
}
