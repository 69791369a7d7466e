import "server-only";
import { isMoneySettled, readMoneyState } from "@/lib/returns/money-track";
import { type KnownFacts, nothingKnown } from "@/lib/returns/return-facts";
import type { Transaction } from "./database";

/**
 * What the other parts of the program know about a return, for the conditions of its moves: the one place where they
 * hook in. Whatever stays null here has to be stated by whoever makes the move, and is kept as that person's word.
 */
export async function readKnownFacts(
  tx: Transaction,
  { returnId, hasReadings }: { readonly returnId: string; readonly hasReadings: boolean },
): Promise<KnownFacts> {
  const lines = await tx.track.findMany({ where: { returnId, track: "money" }, select: { state: true } });
  return {
    ...nothingKnown,
    hasReadings,
    // Without a line nobody has said that nothing is owed.
    moneySettled: lines.length === 0 ? null : isMoneySettled(lines.map(({ state }) => readMoneyState(state))),
  };
}
