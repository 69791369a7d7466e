import "server-only";
import type { Actor } from "@/lib/access/actor";
import { type CustodyPlace, leadsOut, scanCustody } from "@/lib/returns/custody-track";
import { type DecidableRemedy, readDecidedRemedy } from "@/lib/returns/decision.schema";
import { type HoldState, moveHold } from "@/lib/returns/legal-hold";
import { moveRemedy, type RemedyState } from "@/lib/returns/remedy-track";
import { readReturnReference } from "@/lib/returns/return-reference";
import { decisionStands, type ReturnStatus, readReturnStatus } from "@/lib/returns/return-status";
import { isSetApart, moveSafety, readSafetyState, type SafetyState } from "@/lib/returns/safety-track";
import { type ScanOfPack, whyNotThisPack } from "@/lib/returns/scan-of-pack";
import { type TrackOutcome, type TrackRefusal, type TrackRequest, trackRefused } from "@/lib/returns/track-step";
import type { Prisma } from "@/prisma/generated/client";
import { asActor, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { readQuarantineMet } from "../receiving/quarantine-met";
import { readRemedyFacts } from "../remedies/remedy-facts";
import { readKeptUnit } from "../remedies/replacement-units";
import { recordUnitPlace } from "../remedies/unit-custody";
import type { FurtherNote } from "../safety/open-incident";
import { appendNote } from "../safety/raise-danger";
import { type Leaving, readLeaving } from "../transport/outgoing-sending";
import { legOfPlace } from "../transport/travelling-pack";
import { breaksUnique, writtenMeanwhile } from "../unique-violation";
import { passedOn } from "./ready-turn";
import { tellOfFlag } from "./tell-of-flag";
import {
  lockPack,
  openTrack,
  type PackTracks,
  readPackTracks,
  readRemedyTrack,
  readStateAt,
  recordStep,
  type TrackRow,
  type TrackSubject,
} from "./track-rows";

export type TrackAnswer =
  | { readonly ok: true; readonly version: number }
  | { readonly ok: false; readonly reason: TrackRefusal | "not-found"; readonly sentence: string };

const notFound: TrackAnswer = { ok: false, reason: "not-found", sentence: "There is no such return for you." };

export interface TrackPlace {
  readonly returnId: string;
  readonly reference: string;
  readonly packId: string;
  readonly serial: string;
  readonly dealer: { readonly id: string; readonly country: string };
  readonly zone: string;
  readonly status: ReturnStatus;
  /** What was decided on the return and stands. */
  readonly decidedRemedy: DecidableRemedy | null;
  readonly tracks: PackTracks;
  readonly remedy: TrackRow<RemedyState>;
}

/** Raises the safety flag of the pack of a return, or lowers it: the first anyone may, the second the safety officer. */
export async function flagSafety(
  actor: Actor,
  reference: string,
  request: TrackRequest<SafetyState>,
  now = new Date(),
): Promise<TrackAnswer> {
  let openBefore: FurtherNote | null = null;
  const answer = await stepOfTrack(actor, reference, request.reason, now, async (place, tx) => {
    const { packId, tracks } = place;
    const seen = await readStateAt(tx, tracks.safety.id, request.seenVersion);
    const standing = { ...tracks.safety, seen: seen === null ? null : readSafetyState(seen) };
    const outcome = moveSafety(actor, standing, request);
    const also = async () => {
      if (outcome.kind === "moved") openBefore = await tellOfFlag(tx, actor, place, { ...outcome, request }, now);
    };
    // Words that no program reads: whoever declares or watches the pack is told that there were some.
    const facts = isSetApart(request.to) ? { told: true } : {};
    return { row: tracks.safety, subject: { track: "safety", packId }, outcome, facts, also };
  });
  if (answer.ok && openBefore !== null) await appendNote(actor, openBefore, now);
  return passedOn(answer, reference, now);
}

/** "Yes" alone names neither who agreed nor when. Rule of this house. */
const LEAST_AGREEMENT_CHARACTERS = 15;

/** Records by scan where the pack of a return is now; one that is missing has nothing to scan. */
export async function scanPack(
  actor: Actor,
  reference: string,
  {
    scan,
    agreement = "",
    ...request
  }: TrackRequest<CustodyPlace> & {
    readonly scan: ScanOfPack;
    /** Who of the customer gave the pack for a sample, when and how; counts on the way to a supplier alone. */
    readonly agreement?: string;
  },
  now = new Date(),
) {
  const answer = await stepOfTrack(actor, reference, request.reason, now, async (place, tx) => {
    const { returnId, packId, serial, tracks, decidedRemedy, status } = place;
    const leaving = leadsOut(request.to)
      ? await readLeaving(tx, place.reference, legOfPlace[request.to], now, serial)
      : null;
    const moved = scanCustody(
      actor,
      {
        ...tracks.custody,
        safety: tracks.handledAs,
        isOnHold: tracks.hold.state === "held",
        decidedRemedy,
        customerAgreed: agreement.trim().length >= LEAST_AGREEMENT_CHARACTERS,
        quarantineMet: await readQuarantineMet(tx, returnId),
        outgoing: leaving?.why ?? null,
        status,
      },
      request,
    );
    const isMissing = request.to === "missing";
    const why = isMissing ? null : whyNotThisPack(scan, { serial, reference: place.reference });
    return {
      row: tracks.custody,
      subject: { track: "custody", packId },
      outcome: moved.kind === "moved" && why !== null ? trackRefused(why) : moved,
      facts: {
        ...(isMissing ? {} : scan.scanned === "" ? { cannotBeRead: true } : { scanned: scan.scanned }),
        ...(request.to === "supplier" && agreement.trim() !== "" ? { customerAgreed: agreement.trim() } : {}),
        ...declaredWith(leaving),
      },
    };
  });
  return passedOn(answer, reference, now);
}

/** Lays a legal hold on the pack of a return, or takes it off. */
export async function setLegalHold(
  actor: Actor,
  reference: string,
  request: TrackRequest<HoldState>,
  now = new Date(),
) {
  const answer = await stepOfTrack(actor, reference, request.reason, now, ({ packId, tracks }) => ({
    row: tracks.hold,
    subject: { track: "hold", packId },
    outcome: moveHold(actor, tracks.hold, request),
  }));
  return passedOn(answer, reference, now);
}

/** Records what the customer of a return was promised or has received. */
export async function recordRemedy(
  actor: Actor,
  reference: string,
  request: TrackRequest<RemedyState>,
  now = new Date(),
): Promise<TrackAnswer> {
  const answer = await stepOfTrack(
    actor,
    reference,
    request.reason,
    now,
    async ({ returnId, reference: of, remedy, zone }, tx) => {
      const { facts, shown, leaving } = await readRemedyFacts(tx, returnId, now);
      const also = async () => {
        if (request.to === "refund-agreed") {
          const occasion = `remedy ${remedy.version + 1}`;
          await queueNotice(tx, { kind: "refund-to-pay", reference: of, returnId, occasion, to: { role: "finance" } });
        }
        const kept =
          request.to === "sent" && shown.decidedRemedy === "replace" ? await readKeptUnit(tx, returnId) : null;
        if (kept === null) return;
        const said = { reason: request.reason, at: now, zone };
        await recordUnitPlace(tx, actor, { packId: kept.packId, returnId, to: "with-carrier-out", said });
      };
      return {
        also,
        row: remedy,
        subject: { track: "remedy", returnId },
        outcome: moveRemedy(actor, { ...remedy, facts }, request),
        facts: {
          choice: shown.choice,
          serial: shown.serial,
          ...(request.to === "sent" ? declaredWith(leaving) : {}),
          ...(request.to === "refund-paid" && facts.refundOwed?.kind === "owed"
            ? { paidMinor: facts.refundOwed.minor, paidCurrency: facts.refundOwed.currency }
            : {}),
        },
      };
    },
  );
  return passedOn(answer, reference, now);
}

/** The class that a pack left under, kept with the step. */
function declaredWith(leaving: Leaving | null): Prisma.InputJsonObject {
  if (leaving === null || leaving.declarationId === null) return {};
  return { declarationId: leaving.declarationId, transportClass: leaving.transportClass };
}

interface Decided<State extends string> {
  readonly row: TrackRow<State>;
  readonly subject: TrackSubject;
  readonly outcome: TrackOutcome<State>;
  /** What is kept with the step besides the reason. */
  readonly facts?: Prisma.InputJsonObject;
  /** What follows from the step, in its transaction. */
  readonly also?: () => Promise<void>;
}

/** Makes a step of one track of a return, in one transaction under the lock of its pack. */
export async function stepOfTrack<State extends string>(
  actor: Actor,
  typedReference: string,
  reason: string,
  now: Date,
  decide: (place: TrackPlace, tx: Transaction) => Decided<State> | Promise<Decided<State>>,
): Promise<TrackAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return notFound;
  try {
    return await asActor(actor, async (tx) => {
      const place = await readPlace(tx, reading.reference);
      if (place === null) return notFound;
      const { row, subject, outcome, facts = {}, also } = await decide(place, tx);
      if (outcome.kind === "refused") return { ok: false, reason: outcome.why, sentence: outcome.sentence };
      const trackId = row.id ?? (await openTrack(tx, actor, subject, row.state));
      const { from, to, version } = outcome;
      const { zone, returnId } = place;
      const isRecorded = await recordStep(tx, actor, trackId, {
        from,
        to,
        version,
        reason,
        at: now,
        zone,
        returnId,
        facts,
      });
      if (!isRecorded) return changed;
      await also?.();
      return { ok: true, version };
    });
  } catch (error) {
    if (breaksUnique(error, ...writtenMeanwhile)) return changed;
    throw error;
  }
}

const refusedAsChanged = trackRefused("someone-changed-this");
const changed: TrackAnswer = { ok: false, reason: refusedAsChanged.why, sentence: refusedAsChanged.sentence };

async function readPlace(tx: Transaction, reference: string): Promise<TrackPlace | null> {
  const select = {
    id: true,
    packId: true,
    pack: { select: { serial: true } },
    status: true,
    decision: { select: { remedy: true } },
    dealer: { select: { id: true, country: true, timeZone: true } },
  };
  const found = await tx.return.findUnique({ where: { reference }, select });
  if (found === null) return null;
  await lockPack(tx, found.packId);
  const status = readReturnStatus(found.status);
  return {
    returnId: found.id,
    reference,
    dealer: found.dealer,
    packId: found.packId,
    serial: found.pack.serial,
    zone: found.dealer.timeZone,
    status,
    decidedRemedy: decisionStands(status) ? readDecidedRemedy(found.decision?.remedy ?? null) : null,
    tracks: await readPackTracks(tx, found.packId),
    remedy: await readRemedyTrack(tx, found.id),
  };
}
