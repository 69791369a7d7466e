import type { MoveRefusal } from "./move-refusal";
import type { KnownFacts } from "./return-facts";

/** Why a pack may not be sent as far as its class goes: a named person declared one, under rules that are still in force. */
export function classRefusal(known: Pick<KnownFacts, "transportClass" | "rulesStand">): MoveRefusal | null {
  if (known.transportClass === null) return "class-missing";
  if (known.transportClass === "do-not-ship") return "do-not-ship";
  return known.rulesStand ? null : "rules-changed";
}
