import "server-only";
import { type CustodyPlace, readCustodyPlace } from "@/lib/returns/custody-track";
import { canonicalHistoryText, type HistoryEntry } from "@/lib/returns/history-entry";
import { type HoldState, readHoldState } from "@/lib/returns/legal-hold";
import { localInstant } from "@/lib/returns/local-instant";
import { type RemedyState, readRemedyState } from "@/lib/returns/remedy-track";
import { graverOf, readSafetyState, type SafetyState } from "@/lib/returns/safety-track";
import type { TrackStanding } from "@/lib/returns/track-step";
import { FIRST_PREVIOUS_HASH } from "@/lib/returns/verify-history";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import { readFreeze } from "../safety/pack-freeze";
import { type MoverName, sha256 } from "./history";

/** A thing followed beside the case; `id` is null while nothing has moved and no row exists. */
export interface TrackRow<State extends string> extends TrackStanding<State> {
  readonly id: string | null;
}

export interface PackTracks {
  readonly safety: TrackRow<SafetyState>;
  /** How the pack must be handled: the flag, or set apart where an open incident holds it, whatever the flag says. */
  readonly handledAs: SafetyState;
  /** Of its open incidents, as far as the transaction sees them, a sentence each. */
  readonly heldBecause: readonly string[];
  readonly custody: TrackRow<CustodyPlace>;
  readonly hold: TrackRow<HoldState>;
}

/**
 * Until the transaction ends nobody else moves this pack or anything of its returns. Two tracks that depend on each
 * other (a pack is set apart while somebody hands it to the carrier) cannot pass each other unseen.
 */
export async function lockPack(tx: Transaction, packId: string): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${packId}, 0))`;
}

/** Where a pack is, how safe it is, whether a hold lies on it. A pack that was lodged is with the dealer until it moves. */
export async function readPackTracks(tx: Transaction, packId: string): Promise<PackTracks> {
  const rows = await tx.track.findMany({
    where: { packId },
    select: { id: true, track: true, state: true, version: true },
  });
  const of = (track: string) => rows.find((row) => row.track === track) ?? null;
  const [safety, custody, hold] = [of("safety"), of("custody"), of("hold")];
  const flag = safety === null ? "normal" : readSafetyState(safety.state);
  const { noHandBack, because } = await readFreeze(tx, packId);
  return {
    safety: { ...row(safety), state: flag },
    handledAs: noHandBack ? graverOf(flag, "isolate") : flag,
    heldBecause: because,
    custody: { ...row(custody), state: custody === null ? "with-dealer" : readCustodyPlace(custody.state) },
    hold: { ...row(hold), state: hold === null ? "none" : readHoldState(hold.state) },
  };
}

export async function readRemedyTrack(tx: Transaction, returnId: string): Promise<TrackRow<RemedyState>> {
  const found = await tx.track.findFirst({
    where: { returnId, track: "remedy" },
    select: { id: true, state: true, version: true },
  });
  return { ...row(found), state: found === null ? "none-yet" : readRemedyState(found.state) };
}

/** Where a track stood at a version that somebody saw; null where nothing had moved it, or that step is not theirs to read. */
export async function readStateAt(tx: Transaction, trackId: string | null, version: number): Promise<string | null> {
  if (trackId === null) return null;
  const step = await tx.trackMove.findFirst({
    where: { trackId, sequence: Math.max(1, version) },
    select: { from: true, to: true },
  });
  if (step === null) return null;
  return version < 1 ? step.from : step.to;
}

function row(found: { readonly id: string; readonly version: number } | null) {
  return { id: found?.id ?? null, version: found?.version ?? 0 };
}

export type TrackSubject =
  | { readonly track: "custody" | "safety" | "hold"; readonly packId: string }
  | { readonly track: "remedy"; readonly returnId: string };

export interface TrackStepToRecord {
  readonly from: string;
  readonly to: string;
  /** Version of the track after the step. */
  readonly version: number;
  readonly reason: string;
  readonly at: Date;
  readonly zone: string;
  /** The return under which it happens; null where somebody acts on a pack alone. */
  readonly returnId: string | null;
  readonly facts: Prisma.InputJsonObject;
}

/** Opens a track whose first state is where it stands already; the first step then makes version 1. */
export async function openTrack(
  tx: Transaction,
  actor: MoverName,
  subject: TrackSubject,
  state: string,
): Promise<string> {
  const id = crypto.randomUUID();
  await tx.track.createMany({
    data: [{ id, ...subject, state, openedByUserId: actor.userId, openedByName: actor.name }],
  });
  return id;
}

type WrittenStep = Omit<HistoryEntry, "returnId" | "at" | "move"> & {
  readonly at: Date;
  readonly returnId: string | null;
};

/** A row of a track as it is hashed: the chain is the track's, and the return it happened under stands where a return's own history names the move. */
export function trackEntry(trackId: string, { at, returnId, ...step }: WrittenStep): HistoryEntry {
  return { ...step, returnId: trackId, at: at.toISOString(), move: returnId };
}

/**
 * Carries out a step and appends it to the chain of the track. False where somebody else's step came between the read
 * and the write: then nothing was written.
 */
export async function recordStep(
  tx: Transaction,
  actor: MoverName,
  trackId: string,
  step: TrackStepToRecord,
): Promise<boolean> {
  const before = await tx.track.findUnique({ where: { id: trackId }, select: { lastHash: true } });
  if (before === null) return false;
  const previousHash = before.lastHash ?? FIRST_PREVIOUS_HASH;
  const { version, zone, ...rest } = step;
  const written = {
    ...rest,
    sequence: version,
    dataVersion: version,
    ruleVersion: null,
    actorUserId: actor.userId,
    actorName: actor.name,
    actorRole: actor.role,
    atLocal: localInstant(step.at, zone),
  };
  const form = "track-history-1";
  const hash = sha256(canonicalHistoryText(previousHash, trackEntry(trackId, written), form));
  const { count } = await tx.track.updateMany({
    where: { id: trackId, version: version - 1, state: step.from },
    data: { state: step.to, version, lastHash: hash },
  });
  if (count !== 1) return false;
  await tx.trackMove.createMany({ data: [{ ...written, trackId, form, previousHash, hash }] });
  return true;
}

/** Carries out a step of a pack's place, opening its track where nothing had moved it before. */
export async function recordCustody(
  tx: Transaction,
  actor: MoverName,
  {
    packId,
    returnId,
    custody,
  }: { readonly packId: string; readonly returnId: string; readonly custody: TrackRow<CustodyPlace> },
  step: Pick<TrackStepToRecord, "from" | "to" | "version">,
  {
    facts = {},
    ...said
  }: Pick<TrackStepToRecord, "reason" | "at" | "zone"> & Partial<Pick<TrackStepToRecord, "facts">>,
): Promise<boolean> {
  const trackId = custody.id ?? (await openTrack(tx, actor, { track: "custody", packId }, custody.state));
  const { from, to, version } = step;
  return recordStep(tx, actor, trackId, { from, to, version, ...said, returnId, facts });
}
