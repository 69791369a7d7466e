import type { MoveRefusal } from "./move-refusal";
import type { KnownFacts } from "./return-facts";

/** Why a pack may not be sent as far as its class goes: a named person declared one, under rules that are still in force, and nothing known since asks for a stricter one. */
export function classRefusal(
  known: Pick<KnownFacts, "transportClass" | "rulesStand" | "evidenceStands">,
): MoveRefusal | null {
  if (known.transportClass === null) return "class-missing";
  if (known.transportClass === "do-not-ship") return "do-not-ship";
  if (!known.rulesStand) return "rules-changed";
  return known.evidenceStands ? null : "evidence-changed";
}
