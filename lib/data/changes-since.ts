import "server-only";
import type { Actor } from "@/lib/access/actor";
import { changedSince } from "@/lib/returns/changed-since";
import { readReturnReference } from "@/lib/returns/return-reference";
import { returnStatusWords } from "@/lib/returns/return-status";
import { type TrackName, trackStateWords } from "@/lib/returns/track-words";
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

/**
 * What happened to a track of a return, or of its pack, after somebody opened it; null where nothing did, or there is no such
 * return for this person. Of a pack that went through other hands a person reads the steps of the own returns alone: what
 * they cannot read is told without saying more.
 */
export async function readTrackChangesSince(
  actor: Actor,
  typedReference: string,
  track: TrackName,
  seenVersion: number,
): Promise<ChangesSince | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return null;
  const found = await asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: { id: true, packId: true },
    });
    if (row === null) return null;
    return tx.track.findFirst({
      where: track === "remedy" ? { track, returnId: row.id } : { track, packId: row.packId },
      select: {
        state: true,
        version: true,
        moves: {
          select: { sequence: true, dataVersion: true, from: true, to: true, actorName: true },
          orderBy: { sequence: "asc" },
        },
      },
    });
  });
  if (found === null || found.version <= seenVersion) return null;
  const say = (state: string) => trackStateWords(track, state);
  const { moves } = found;
  const seen =
    moves.find(({ sequence }) => sequence === seenVersion)?.to ??
    moves.find(({ sequence }) => sequence === seenVersion + 1)?.from;
  const changes = [...new Set(changedSince(moves, seenVersion, say))];
  return {
    was: seen === undefined ? "As this page shows it" : say(seen),
    now: say(found.state),
    changes: changes.length > 0 ? changes : ["Somebody else changed it."],
  };
}
