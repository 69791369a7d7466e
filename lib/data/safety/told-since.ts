import "server-only";
import { type ToldDangerOnPack, toldSince } from "@/lib/returns/told-since";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";

/** The steps of a pack's place and safety, as far as a transaction sees them, to be selected with the pack. */
export const stepsOfPack = {
  where: { track: { in: ["custody", "safety"] } },
  select: { track: true, moves: { select: { from: true, to: true, at: true, facts: true, sequence: true } } },
} as const satisfies Prisma.Pack$tracksArgs;

type TracksWithSteps = readonly Prisma.TrackGetPayload<{ select: typeof stepsOfPack.select }>[];

/** What was told of a pack in words since the house gave it back last, from its selected steps. */
export function toldSinceOf(tracks: TracksWithSteps): ToldDangerOnPack[] {
  const steps = tracks.flatMap(({ track, moves }) => {
    const kind: "custody" | "safety" = track === "custody" ? "custody" : "safety";
    return moves.map((move) => ({ ...move, track: kind }));
  });
  return toldSince(steps.sort((a, b) => a.at.getTime() - b.at.getTime() || a.sequence - b.sequence));
}

/** The same of one pack. */
export async function readToldSince(tx: Transaction, packId: string): Promise<ToldDangerOnPack[]> {
  const { where, select } = stepsOfPack;
  return toldSinceOf(await tx.track.findMany({ where: { ...where, packId }, select }));
}
