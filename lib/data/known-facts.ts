import "server-only";
import { type KnownFacts, nothingKnown } from "@/lib/returns/return-facts";
import type { Transaction } from "./database";

/** States of a money line after which nothing of it is outstanding. */
const settledStates = ["paid", "refused"];

/**
 * What the other parts of the program know about a return, for the conditions of its moves: the one place where they
 * hook in. Whatever stays null here has to be stated by whoever makes the move, and is kept as that person's word.
 */
export async function readKnownFacts(
  tx: Transaction,
  { returnId, hasReadings }: { readonly returnId: string; readonly hasReadings: boolean },
): Promise<KnownFacts> {
  const declared = await tx.classDeclaration.findFirst({
    where: { returnId },
    orderBy: { sequence: "desc" },
    select: {
      transportClass: true,
      leaves: { select: { expiresAt: true }, orderBy: { givenAt: "desc" }, take: 1 },
      prints: { where: { kind: "label" }, select: { id: true }, take: 1 },
    },
  });
  const lines = await tx.settlementLine.findMany({ where: { returnId }, select: { state: true } });
  const stay = await tx.quarantineStay.findFirst({
    where: { arrival: { returnId } },
    orderBy: { placedAt: "desc" },
    select: { releasedAt: true },
  });
  const leave = declared?.leaves[0] ?? null;
  return {
    ...nothingKnown,
    hasReadings,
    transportClass: declared?.transportClass ?? null,
    sendingEndsAt: leave?.expiresAt.toISOString() ?? null,
    labelPrinted: leave === null ? null : (declared?.prints.length ?? 0) > 0,
    quarantineMet: stay === null ? null : stay.releasedAt !== null,
    // Without a line nobody has said that nothing is owed.
    moneySettled: lines.length === 0 ? null : lines.every(({ state }) => settledStates.includes(state)),
  };
}
