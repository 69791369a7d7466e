import { afterDecision } from "./case-stages";
import { classRefusal, hasSendingEnded } from "./class-refusal";
import { atTheDealers, type CustodyPlace } from "./custody-track";
import type { DecidableRemedy } from "./decision.schema";
import { moveRefusals } from "./move-refusal";
import type { KnownFacts } from "./return-facts";
import type { ReturnStatus } from "./return-status";
import { isSetApart, type SafetyState } from "./safety-track";

/** What becomes of the old pack after a replacement or a refund, where it still lies at the dealer's. */
export const oldPackOrders = ["send-in", "recycle-there"] as const;
export type OldPackOrder = (typeof oldPackOrders)[number];

export const oldPackOrderWords: Readonly<Record<OldPackOrder, string>> = {
  "send-in": "Send it in",
  "recycle-there": "Stays there: give it to a local recycler",
};

export function readOldPackOrder(stored: string): OldPackOrder {
  const order = oldPackOrders.find((known) => known === stored);
  if (order === undefined) throw new RangeError(`order for an old pack: ${stored} is unknown`);
  return order;
}

export interface OldPackStanding {
  readonly status: ReturnStatus;
  readonly decidedRemedy: DecidableRemedy | null;
  readonly custody: CustodyPlace;
  readonly safety: SafetyState;
  readonly isOnHold: boolean;
  readonly known: Pick<
    KnownFacts,
    | "transportClass"
    | "rulesStand"
    | "evidenceStands"
    | "isHeldUnseen"
    | "labelPrinted"
    | "packedAsTold"
    | "sendingEndsAt"
  >;
  readonly now: Date;
}

/** With these the customer is served without the old pack; with every other decision the case itself says where it goes. */
const leavesAnOldPack: readonly (DecidableRemedy | null)[] = ["replace", "refund"];

/** Whether there is an old pack at the dealer's that somebody has to say something of. */
export function leavesOldPack({ status, decidedRemedy, custody }: OldPackStanding): boolean {
  return (
    afterDecision.some((stage) => stage === status) &&
    leavesAnOldPack.includes(decidedRemedy) &&
    atTheDealers.includes(custody)
  );
}

/** Why an old pack may not leave the dealer's as it was ordered, in a sentence; null where it may. */
export function whyOldPackStays(order: OldPackOrder, standing: OldPackStanding): string | null {
  const { known, safety, isOnHold, now } = standing;
  if (!leavesOldPack(standing)) return moveRefusals["not-from-here"];
  if (isSetApart(safety) || known.isHeldUnseen) return moveRefusals["safety-open"];
  if (order === "recycle-there") return isOnHold ? moveRefusals["on-hold"] : null;
  const why = classRefusal(known);
  if (why !== null) return moveRefusals[why];
  if (hasSendingEnded(known, now)) return moveRefusals["sending-ended"];
  if (!known.labelPrinted) return moveRefusals["label-missing"];
  return known.packedAsTold ? null : moveRefusals["not-packed"];
}
