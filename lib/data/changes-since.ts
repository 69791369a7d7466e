import "server-only";
import type { Actor } from "@/lib/access/actor";
import { changedSince } from "@/lib/returns/changed-since";
import { readReturnReference } from "@/lib/returns/return-reference";
import { returnStatusWords } from "@/lib/returns/return-status";
import { asActor } from "./database";

export interface ChangesSince {
  /** Where the return stood on the screen of the person. */
  readonly was: string;
  /** Where it stands now. */
  readonly now: string;
  /** What others did meanwhile, oldest first. */
  readonly changes: readonly string[];
}

/** What happened to a return after somebody opened it; null where there is no such return for this person. */
export async function readChangesSince(
  actor: Actor,
  typedReference: string,
  seenVersion: number,
): Promise<ChangesSince | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return null;
  const row = await asActor(actor, (tx) =>
    tx.return.findUnique({
      where: { reference: reading.reference },
      select: {
        status: true,
        moves: { select: { dataVersion: true, to: true, actorName: true }, orderBy: { sequence: "asc" } },
      },
    }),
  );
  if (row === null) return null;
  const seen = row.moves.findLast(({ dataVersion }) => dataVersion <= seenVersion);
  return {
    was: seen === undefined ? "Not lodged" : returnStatusWords(seen.to),
    now: returnStatusWords(row.status),
    changes: changedSince(row.moves, seenVersion),
  };
}
