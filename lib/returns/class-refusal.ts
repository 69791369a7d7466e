import type { MoveRefusal } from "./move-refusal";
import type { KnownFacts } from "./return-facts";
import type { ReturnStanding } from "./return-standing";
import { isSetApart } from "./safety-track";

/** Why a pack may not be sent as far as its class goes: a named person declared one, under rules that are still in force, and nothing known since asks for a stricter one. */
export function classRefusal(
  known: Pick<KnownFacts, "transportClass" | "rulesStand" | "evidenceStands">,
): MoveRefusal | null {
  if (known.transportClass === null) return "class-missing";
  if (known.transportClass === "do-not-ship") return "do-not-ship";
  if (!known.rulesStand) return "rules-changed";
  return known.evidenceStands ? null : "evidence-changed";
}

/**
 * Whether a pack that is allowed to be sent waits for the house: no class counts for it, something known holds it, or its time to
 * be sent is over while the return cannot end, because something of ours is still out under it. Nobody at the
 * counter can mend that, so neither the turn nor the time to send it is the dealer's.
 */
export function waitsForTheHouse({
  status,
  safety,
  known,
  now,
}: Pick<ReturnStanding, "status" | "safety" | "known" | "now">): boolean {
  if (status !== "return-approved") return false;
  const isSomethingOut = known.awaitedBackBy !== null || known.loanIsOut === true || known.unitIsOut;
  const mayNotLapse = isSomethingOut && hasSendingEnded(known, now);
  return isSetApart(safety) || known.isHeldUnseen || classRefusal(known) !== null || mayNotLapse;
}

/** Whether there was leave to send, and its time is over. */
export function hasSendingEnded({ sendingEndsAt }: Pick<KnownFacts, "sendingEndsAt">, now: Date): boolean {
  return sendingEndsAt !== null && new Date(sendingEndsAt) < now;
}
