import "server-only";
import { answeredStops, type ShipStop } from "@/lib/packs/let-pack-go";
import { packItselfGoesOut } from "@/lib/returns/case-guards";
import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import type { Transaction } from "../database";
import { readShipStops } from "../packs/stock-packs";
import { readKeptUnit, whyKeptUnitIsStopped } from "../remedies/replacement-units";

/** A return as far as it matters which of its packs goes out. */
export interface OutgoingOf {
  readonly returnId: string;
  readonly decidedRemedy: DecidableRemedy | null;
}

/**
 * The stops that keep a returned pack itself from going out: held-back sets it is named in and issues under which nothing goes
 * out, but for those from which a named person let this pack go under the decision that stands.
 */
export async function readStopsOfReturned(tx: Transaction, returnId: string): Promise<ShipStop[]> {
  return (await readStopsAndAnswers(tx, returnId)).stops;
}

export interface StopsAndAnswers {
  /** The stops that keep it here. */
  readonly stops: ShipStop[];
  /** Stops that lie on it from which somebody let it go. */
  readonly letGo: ShipStop[];
}

/** The stops on a returned pack, and which of them a named person answered under the decision that stands. */
export async function readStopsAndAnswers(tx: Transaction, returnId: string): Promise<StopsAndAnswers> {
  const { packId, pack, letGo, decision } = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: {
      packId: true,
      pack: { select: { revisionId: true } },
      letGo: {
        select: { kind: true, stops: true, at: true, decisionId: true },
        orderBy: [{ at: "asc" }, { id: "asc" }],
      },
      decision: { select: { id: true, decidedAt: true } },
    },
  });
  // A word given under an earlier decision was given for another hand-over. Older rows name none and count by their day.
  const counts = letGo.filter(({ at, decisionId }) =>
    decisionId === null ? decision === null || at >= decision.decidedAt : decisionId === decision?.id,
  );
  const answered = answeredStops(counts);
  const lying = await readShipStops(tx, { packId, revisionId: pack.revisionId });
  return {
    stops: lying.filter(({ key }) => !answered.has(key)),
    letGo: lying.filter(({ key }) => answered.has(key)),
  };
}

/**
 * Whether what a return sends out is stopped; null where no pack of it goes out yet. Give it a transaction that sees what the
 * house sees: sets, issues and lots are not a dealer's to read.
 */
export async function isOutgoingStopped(
  tx: Transaction,
  { returnId, decidedRemedy }: OutgoingOf,
): Promise<boolean | null> {
  if (decidedRemedy === "replace")
    return (await readKeptUnit(tx, returnId)) === null ? null : (await whyKeptUnitIsStopped(tx, returnId)) !== null;
  if (decidedRemedy === null || !packItselfGoesOut(decidedRemedy)) return null;
  return (await readStopsOfReturned(tx, returnId)).length > 0;
}
