import "server-only";
import { type Actor, program } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { UnitRefusal } from "@/lib/packs/replacement-unit";
import { readReturnReference } from "@/lib/returns/return-reference";
import { endedStatuses } from "@/lib/returns/return-status";
import { isUnitOut } from "@/lib/returns/unit-place";
import { mayKeepUnit } from "@/lib/returns/what-to-show";
import { asActor, asSystem, type Transaction } from "../database";
import { lockPack } from "../returns/track-rows";
import { breaksUnique } from "../unique-violation";
import { judgeUnit, readKeptUnit, returnToReplaceSelect } from "./replacement-units";
import { readUnitPlace } from "./unit-custody";

export type KeepAnswer =
  | { readonly ok: true; readonly serial: string }
  | {
      readonly ok: false;
      readonly reason:
        | UnitRefusal
        | "not-found"
        | "not-allowed"
        | "one-is-kept"
        | "too-late"
        | "reason-missing"
        | "is-under-way";
      readonly sentence: string;
    };

const notFound = refused("not-found", "There is no such return for you.");
const notAllowed = refused("not-allowed", "This is not yours to do.");
const takenMeanwhile = refused(
  "is-kept-for-another",
  "Somebody kept this pack for another return a moment ago. Take another.",
);
const isUnderWay = refused(
  "is-under-way",
  "This pack was sent. Record first that it came back or that it is missing; then it can be given up.",
);
const oneIsKept = refused("one-is-kept", "A pack is kept for this return already. Give that one up first.");

/**
 * Keeps a pack from stock for a return. Of two who reach for the same pack one gets it, the other is told; every other
 * reason is a sentence for the field.
 */
export async function keepUnitFor(
  actor: Actor,
  typedReference: string,
  typedSerial: string,
  now = new Date(),
): Promise<KeepAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return notFound;
  if (!may(actor, "work-on-pack")) return notAllowed;
  try {
    return await asActor(actor, async (tx) => {
      const row = await tx.return.findUnique({
        where: { reference: reading.reference },
        select: { ...returnToReplaceSelect, status: true },
      });
      if (row === null) return notFound;
      await lockPack(tx, row.packId);
      if (!mayKeepUnit(row.status))
        return refused("too-late", "A pack is kept between the decision and the hand-over only.");
      if ((await readKeptUnit(tx, row.id)) !== null) return oneIsKept;
      const judged = await judgeUnit(tx, row, typedSerial);
      if (judged.kind === "refused") return refused(judged.why, judged.sentence);
      await keepUnit(tx, actor, { returnId: row.id, packId: judged.unit.packId, now });
      return { ok: true, serial: judged.unit.serial };
    });
  } catch (error) {
    if (breaksUnique(error, "UnitReservation_one_open_per_return")) return oneIsKept;
    if (breaksUnique(error, "UnitReservation_one_open_per_pack")) return takenMeanwhile;
    throw error;
  }
}

/**
 * Gives the pack kept for a return up again, with a reason; where it lies in the store it may be kept for another from then
 * on. One that was sent comes back first, or is recorded as missing: else it would be on the shelf while a dealer has it.
 */
export async function giveUnitUp(
  actor: Actor,
  typedReference: string,
  because: string,
  now = new Date(),
): Promise<KeepAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return notFound;
  if (!may(actor, "work-on-pack")) return notAllowed;
  if (because.trim().length < 3) return refused("reason-missing", "Write why it is given up.");
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({ where: { reference: reading.reference }, select: { id: true } });
    const kept = row === null ? null : await readKeptUnit(tx, row.id);
    if (kept === null) return notFound;
    await lockPack(tx, kept.packId);
    if (isUnitOut((await readUnitPlace(tx, kept.packId))?.state ?? null)) return isUnderWay;
    await endReservation(tx, actor, kept.reservationId, { ending: "given-up", because, now });
    return { ok: true, serial: kept.serial };
  });
}

/**
 * Gives up what is still kept for returns that are over and lies in the store: it will be handed over to nobody, and nothing else
 * would put it among the packs that may be taken. How many were given up. As the system: nobody asks for it.
 */
export async function giveUpUnitsOfEndedAsSystem(now: Date): Promise<number> {
  const kept = await asSystem((tx) =>
    tx.unitReservation.findMany({
      where: { endedAt: null, return: { status: { in: [...endedStatuses] } } },
      select: { packId: true, returnId: true },
    }),
  );
  let givenUp = 0;
  for (const { packId, returnId } of kept) {
    const isGivenUp = await asSystem(async (tx) => {
      await lockPack(tx, packId);
      const unit = await readKeptUnit(tx, returnId);
      if (unit === null || isUnitOut((await readUnitPlace(tx, packId))?.state ?? null)) return false;
      const end = { ending: "given-up", because: "The return it was kept for is over.", now } as const;
      await endReservation(tx, program, unit.reservationId, end);
      return true;
    });
    givenUp += isGivenUp ? 1 : 0;
  }
  return givenUp;
}

export async function keepUnit(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  { returnId, packId, now }: { readonly returnId: string; readonly packId: string; readonly now: Date },
): Promise<void> {
  await tx.unitReservation.createMany({
    data: [{ returnId, packId, reservedAt: now, reservedByUserId: actor.userId, reservedByName: actor.name }],
  });
}

/** Ends a reservation; throws where it was ended meanwhile, which the lock on its pack keeps from happening. */
export async function endReservation(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name">,
  id: string,
  end: { readonly ending: "handed-over" | "given-up"; readonly because: string | null; readonly now: Date },
): Promise<void> {
  const { ending, because, now } = end;
  const { count } = await tx.unitReservation.updateMany({
    where: { id, endedAt: null },
    data: { endedAt: now, endedByUserId: actor.userId, endedByName: actor.name, ending, endedBecause: because },
  });
  if (count !== 1) throw new Error(`Reservation ${id} ended meanwhile`);
}

function refused(reason: Exclude<KeepAnswer, { ok: true }>["reason"], sentence: string) {
  return { ok: false, reason, sentence } as const;
}
