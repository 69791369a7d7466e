import "server-only";
import type { Actor } from "@/lib/access/actor";
import { openStatuses } from "@/lib/returns/return-status";
import type { Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";
import { readLastComingIn, readOwnArrivals } from "../returns/coming-in";
import { readPackTracks } from "../returns/track-rows";

/** A pack that came in the box of another, settled as such, and still lies here under that return. */
export interface FoundPack {
  /** As scanned; null where nothing could be read. */
  readonly serialShown: string | null;
  /** Its own open return, under which it is scanned in; null where it has none. */
  readonly ownReference: string | null;
  /** Whether the record knows a pack of this serial. */
  readonly isKnown: boolean;
  /** Where it lies in quarantine; null where nobody laid it there. */
  readonly stay: { readonly id: string; readonly placeCode: string; readonly placedAt: Date } | null;
}

/**
 * Whether a pack lies in quarantine and has not been scanned in under this return since it came: found under another, or
 * written down without goods-in; `beside` is the arrival that is being recorded.
 */
export async function liesHereAsFound(
  tx: Transaction,
  packId: string,
  returnId: string | null,
  beside?: string,
): Promise<boolean> {
  const { custody } = await readPackTracks(tx, packId);
  if (custody.state !== "quarantine") return false;
  const cameIn = await readLastComingIn(tx, packId);
  if (cameIn === null) return false;
  if (returnId === null) return cameIn.returnId !== null;
  const arrivals = await readOwnArrivals(tx, returnId, beside);
  // Under this very return and never scanned: from before arrivals were kept.
  if (arrivals.length === 0) return cameIn.returnId !== returnId;
  return arrivals.every(({ arrivedAt }) => arrivedAt < cameIn.at);
}

/** The found packs that still lie under a return whose own pack they are not. */
export async function readFoundPacks(tx: Transaction, returnId: string): Promise<FoundPack[]> {
  const arrivals = await tx.arrival.findMany({
    where: { returnId, settlement: { outcome: "other-pack" } },
    orderBy: { arrivedAt: "asc" },
    select: {
      foundSerial: true,
      stays: { where: { releasedAt: null }, select: { id: true, placedAt: true, place: { select: { code: true } } } },
    },
  });
  const found: FoundPack[] = [];
  for (const { foundSerial, stays } of arrivals) {
    const [stay] = stays;
    const pack = foundSerial === null ? null : await readPackOf(tx, foundSerial);
    const own = pack?.returns.find((row) => row.id !== returnId) ?? null;
    const liesFound = pack !== null && (await liesHereAsFound(tx, pack.id, own?.id ?? null));
    if (stay === undefined && !liesFound) continue;
    found.push({
      serialShown: foundSerial === null ? null : shownSerial(foundSerial),
      ownReference: own?.reference ?? null,
      isKnown: pack !== null,
      stay: stay === undefined ? null : { id: stay.id, placeCode: stay.place.code, placedAt: stay.placedAt },
    });
  }
  return found;
}

function readPackOf(tx: Transaction, serial: string) {
  return tx.pack.findUnique({
    where: { serial },
    select: {
      id: true,
      returns: {
        where: { status: { in: [...openStatuses] }, settledBefore: false },
        orderBy: { lodgedAt: "desc" },
        select: { id: true, reference: true },
      },
    },
  });
}

export interface FoundStay {
  readonly serial: string;
  readonly energyKwh: number;
  /** The arrival under the pack's own return. */
  readonly arrivalId: string;
}

/** The place a found pack lies in goes over to its own return, with the time since it was laid there: there it is watched and let go. */
export async function takeOverStay(
  tx: Transaction,
  actor: Actor,
  { serial, energyKwh, arrivalId }: FoundStay,
  now: Date,
): Promise<void> {
  const stays = await tx.quarantineStay.findMany({
    where: { releasedAt: null, arrival: { foundSerial: serial, settlement: { outcome: "other-pack" } } },
    select: { id: true, placeId: true, placedAt: true },
    orderBy: { placedAt: "asc" },
  });
  for (const { id } of stays) await endStayOfFound(tx, actor, id, "Scanned in under its own return.", now);
  const [first] = stays;
  if (first === undefined) return;
  const { placeId, placedAt } = first;
  const placed = { placedByUserId: actor.userId, placedByName: actor.name };
  await tx.quarantineStay.createMany({ data: [{ arrivalId, placeId, placedAt, energyKwh, ...placed }] });
}

export function endStayOfFound(tx: Transaction, actor: Actor, id: string, endedBecause: string, now: Date) {
  const data = { releasedAt: now, releasedByUserId: actor.userId, releasedByName: actor.name, endedBecause };
  return tx.quarantineStay.update({ where: { id }, data, select: { id: true } });
}
