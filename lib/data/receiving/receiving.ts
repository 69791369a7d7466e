import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { Arrival } from "@/lib/receiving/arrival.schema";
import { ratedKwh } from "@/lib/receiving/energy-in-box";
import { checkIdentity, type IdentityCheck } from "@/lib/receiving/identity-check";
import { missingFaces, photoViewLabels } from "@/lib/receiving/pack-faces";
import { mayPlace, mayRelease } from "@/lib/receiving/quarantine";
import type { StayToEnd } from "@/lib/receiving/watch-form.schema";
import { neededWatchHours } from "@/lib/receiving/watch-hours";
import { currentWatch, type Watch, type WatchReading, watchTasks, watchVerdict } from "@/lib/receiving/watch-readings";
import { readReturnReference } from "@/lib/returns/return-reference";
import { mayNotBeMoved } from "@/lib/returns/safety-track";
import { asActor, type Transaction } from "../database";
import { refusedMove } from "../returns/move-return";
import { readPackTracks } from "../returns/track-rows";
import { raiseAtGoodsIn, raiseOnAlarm } from "../safety/danger-at-goods-in";
import type { FurtherNote } from "../safety/open-incident";
import { readFreeze } from "../safety/pack-freeze";
import { appendNote } from "../safety/raise-danger";
import { readToldSince } from "../safety/told-since";
import { breaksUnique } from "../unique-violation";
import { readEnergyInBoxKwh } from "./energy-in-box";
import { takeOverStay } from "./found-pack";
import { takeIn } from "./take-in";

export type ReceivingAnswer =
  | { readonly ok: true; readonly identity?: IdentityCheck }
  | { readonly ok: false; readonly reason: string; readonly sentence: string };

const notFound: ReceivingAnswer = { ok: false, reason: "not-found", sentence: "There is no such return for you." };
const changedMeanwhile: ReceivingAnswer = {
  ok: false,
  reason: "someone-changed-this",
  sentence: "Somebody did this at the same moment. Look again.",
};
export const notReceived: ReceivingAnswer = {
  ok: false,
  reason: "not-received",
  sentence: "Record first that the pack came in.",
};

/**
 * Records that a pack came in: what the scanner read off it, how box and pack look, and whether it is the right one. Where
 * the return was expecting it, the same entry moves the return to the works and the pack into quarantine, in the same
 * transaction: either both are so afterwards or neither. Danger signs flag the pack in it too.
 */
export async function recordArrival(
  actor: Actor,
  reference: string,
  arrival: Arrival,
  now = new Date(),
): Promise<ReceivingAnswer> {
  let further: FurtherNote | null = null;
  const answer = await inReturn(actor, reference, async (tx, row) => {
    const identity = checkIdentity(arrival.scanned, row.pack.serial);
    const { id: arrivalId } = await tx.arrival.create({
      select: { id: true },
      data: {
        returnId: row.id,
        scanned: arrival.scanned.slice(0, 200),
        identity: identity.kind,
        foundSerial: identity.kind === "unreadable" ? null : identity.serial,
        boxCondition: arrival.boxCondition,
        signs: [...arrival.signs],
        insulationMegaohm: arrival.insulationMegaohm ?? null,
        note: arrival.note,
        arrivedAt: now,
        receivedByUserId: actor.userId,
        receivedByName: actor.name,
      },
    });
    const taken = await takeIn(tx, actor, row, { identity, scanned: arrival.scanned, arrivalId }, now);
    if (!taken.ok) throw new NotMoved(taken);
    const { serial } = row.pack;
    const energyKwh = ratedKwh(row.pack.revision.model);
    if (identity.kind === "match") await takeOverStay(tx, actor, { serial, energyKwh, arrivalId }, now);
    further = await raiseAtGoodsIn(tx, actor, row, arrival, now);
    return { ok: true, identity };
  });
  if (answer.ok && further !== null) await appendNote(actor, further, now);
  return answer;
}

/** Thrown inside the transaction, so that no arrival stays whose return could not move with it. */
export class NotMoved extends Error {
  readonly answer: ReceivingAnswer;
  constructor(answer: ReceivingAnswer) {
    super("the return did not move with its pack");
    this.answer = answer;
  }
}

/** Lays the pack into a quarantine place, or into another one where its hours begin anew, within its limits. The place is locked, so that two packs cannot share the last room. */
export function placeInQuarantine(
  actor: Actor,
  reference: string,
  placeCode: string,
  now = new Date(),
): Promise<ReceivingAnswer> {
  return inReturn(actor, reference, async (tx, row) => {
    const [arrival] = row.arrivals;
    if (arrival === undefined) return notReceived;
    const lying = arrival.stays.find(({ releasedAt }) => releasedAt === null);
    if (lying?.place.code === placeCode) {
      return { ok: false, reason: "lies-already", sentence: "It lies in this quarantine place already." };
    }
    if (lying !== undefined && mayNotBeMoved((await readPackTracks(tx, row.packId)).safety.state)) {
      const sentence = "Nobody may move it. The safety officer looks at it and lowers the flag first.";
      return { ok: false, reason: "do-not-move", sentence };
    }
    const place = await lockPlace(tx, placeCode);
    if (place === null) return { ok: false, reason: "no-such-place", sentence: "Choose one of the places." };
    const energyKwh = await readEnergyInBoxKwh(tx, row.pack.revision.model.code, arrival);
    const placing = mayPlace(place, place.stays, energyKwh);
    if (placing.kind === "refused") return { ok: false, reason: placing.why, sentence: placing.sentence };
    if (lying !== undefined) await endStay(tx, actor, lying.id, now);
    await tx.quarantineStay.create({
      data: {
        arrivalId: arrival.id,
        placeId: place.id,
        energyKwh,
        placedAt: now,
        placedByUserId: actor.userId,
        placedByName: actor.name,
      },
    });
    return { ok: true };
  });
}

async function lockPlace(tx: Transaction, code: string) {
  const [locked] = await tx.$queryRaw<
    { id: string }[]
  >`SELECT "id"::text AS id FROM "QuarantinePlace" WHERE "code" = ${code}`;
  if (locked === undefined) return null;
  // A lock of the transaction, not of the row: the bench may not update the settings of a place.
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtext(${locked.id}))`;
  return tx.quarantinePlace.findUnique({
    where: { code },
    select: {
      id: true,
      code: true,
      maxPacks: true,
      maxEnergyKwh: true,
      minimumHours: true,
      overdueAfterHours: true,
      stays: { where: { releasedAt: null }, select: { energyKwh: true, placedAt: true } },
    },
  });
}

/** Adds one measurement of the pack in quarantine; an alarm sets it apart, is told at once, and makes an incident known since it. */
export async function recordWatch(
  actor: Actor,
  reference: string,
  reading: WatchReading,
  now = new Date(),
): Promise<ReceivingAnswer> {
  let further: FurtherNote | null = null;
  const answer = await inReturn(actor, reference, async (tx, row) => {
    const [arrival] = row.arrivals;
    if (arrival === undefined) return notReceived;
    await tx.watchMeasurement.create({
      data: { ...reading, arrivalId: arrival.id, byUserId: actor.userId, byName: actor.name },
    });
    further = await raiseOnAlarm(tx, actor, row, watchOf(arrival).readings, reading, now);
    return { ok: true };
  });
  if (answer.ok && further !== null) await appendNote(actor, further, now);
  return answer;
}

function endStay(tx: Transaction, actor: Actor, id: string, now: Date, noFacesBecause: string | null = null) {
  const data = { releasedAt: now, releasedByUserId: actor.userId, releasedByName: actor.name, noFacesBecause };
  return tx.quarantineStay.update({ where: { id }, data, select: { id: true } });
}

/** Lets the pack out of quarantine, for the bench, where it may be opened. */
export function releaseFromQuarantine(
  actor: Actor,
  reference: string,
  { noFacesBecause }: StayToEnd,
  now = new Date(),
): Promise<ReceivingAnswer> {
  return inReturn(actor, reference, async (tx, row) => {
    const [arrival] = row.arrivals;
    const stay = arrival?.stays.find(({ releasedAt }) => releasedAt === null);
    if (arrival === undefined || stay === undefined) {
      return { ok: false, reason: "not-there", sentence: "It lies in no quarantine place." };
    }
    const { startedAt, readings } = watchOf(arrival);
    const faces = missingFaces(row.photos, row._count.arrivals > 1 ? arrival.arrivedAt : null);
    const neededHours = neededWatchHours({
      ...row,
      handSigns: arrival.signs,
      boxCondition: arrival.boxCondition,
      wasToldSince: (await readToldSince(tx, row.packId)).length > 0,
    });
    const release = mayRelease(
      {
        place: stay.place,
        placedAt: stay.placedAt,
        neededHours,
        verdict: watchVerdict(readings, neededHours),
        tasks: watchTasks(startedAt, readings, neededHours, now),
        frozenBecause: (await readFreeze(tx, row.packId)).because,
        flag: (await readPackTracks(tx, row.packId)).safety.state,
        identityOpen: arrival.identity !== "match" && arrival.settlement?.outcome !== "same-pack",
        missingFaces: faces.map((face) => photoViewLabels[face].toLowerCase()),
        noFacesBecause,
      },
      now,
    );
    if (release.kind === "refused") return { ok: false, reason: release.why, sentence: release.sentence };
    await endStay(tx, actor, stay.id, now, faces.length === 0 ? null : noFacesBecause);
    return { ok: true };
  });
}

const receivingSelect = {
  id: true,
  reference: true,
  status: true,
  version: true,
  packId: true,
  dangerSigns: true,
  conditions: true,
  photos: { select: { view: true, takenAt: true } },
  _count: { select: { arrivals: true } },
  dealer: { select: { id: true, country: true, timeZone: true } },
  pack: {
    select: {
      serial: true,
      revision: { select: { model: { select: { code: true, ratedCapacityAh: true, ratedVoltageV: true } } } },
    },
  },
  arrivals: {
    orderBy: { arrivedAt: "desc" },
    take: 1,
    select: {
      id: true,
      arrivedAt: true,
      signs: true,
      boxCondition: true,
      identity: true,
      foundSerial: true,
      settlement: { select: { outcome: true } },
      measurements: { select: { at: true, surfaceC: true, ambientC: true, terminalV: true, noVoltageBecause: true } },
      restarts: { select: { restartedAt: true } },
      stays: {
        select: {
          id: true,
          placedAt: true,
          releasedAt: true,
          place: { select: { code: true, minimumHours: true } },
        },
      },
    },
  },
} as const;

function watchOf({ arrivedAt, restarts, measurements }: ReceivedRow["arrivals"][number]): Watch {
  return currentWatch(
    arrivedAt,
    restarts.map(({ restartedAt }) => restartedAt),
    measurements,
  );
}

function readRow(tx: Transaction, reference: string) {
  return tx.return.findUnique({ where: { reference }, select: receivingSelect });
}

export type ReceivedRow = NonNullable<Awaited<ReturnType<typeof readRow>>>;

/** Runs something of goods-in on one return, in one transaction; a refused move of the return is its answer. */
export async function inReturn(
  actor: Actor,
  typedReference: string,
  run: (tx: Transaction, row: ReceivedRow) => Promise<ReceivingAnswer>,
): Promise<ReceivingAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "receive-pack")) return notFound;
  try {
    return await asActor(actor, async (tx) => {
      const row = await readRow(tx, reading.reference);
      return row === null ? notFound : run(tx, row);
    });
  } catch (error) {
    if (error instanceof NotMoved) return error.answer;
    const moved = refusedMove(error);
    if (moved?.ok === false) return { ok: false, reason: moved.reason, sentence: moved.sentence };
    if (!breaksUnique(error, "QuarantineStay_one_open_per_arrival", "IdentitySettlement_pkey")) throw error;
    return changedMeanwhile;
  }
}
