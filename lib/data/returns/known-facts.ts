import "server-only";
import { toldViews } from "@/lib/receiving/pack-faces";
import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import { remedyDelivered } from "@/lib/returns/remedy-track";
import { type KnownFacts, nothingKnown } from "@/lib/returns/return-facts";
import { isUnitOut } from "@/lib/returns/unit-place";
import { settledLineStates } from "@/lib/settlement/line-moves";
import { readBenchTestFacts, type TestedReturn } from "../bench-tests/bench-test-facts";
import type { Transaction } from "../database";
import { readRefundsPaid } from "../money/refund-payments";
import { readQuarantineMet } from "../receiving/quarantine-met";
import { readAwaitedBack } from "../remedies/awaited-back";
import { readKeptUnit } from "../remedies/replacement-units";
import { readUnitPlace } from "../remedies/unit-custody";
import { isOutgoingStopped } from "../safety/outgoing-stop";
import { whyNotHandedOver } from "../transport/outgoing-sending";
import { isPackedAsTold, readPacking } from "../transport/packing-check";
import { readSendingFacts } from "../transport/sending-facts";
import { readLegalPrompts } from "../warranty/legal-notices";
import { readJoinedReturns } from "./joined-returns";
import { readRemedyTrack } from "./track-rows";

interface WhatTheReturnSays extends TestedReturn {
  readonly now: Date;
  readonly hasReadings: boolean;
  readonly decidedRemedy: DecidableRemedy | null;
  /** What would give a pack back to riding as the return stands: what is decided, or help from a distance. */
  readonly outgoingRemedy: DecidableRemedy | null;
  readonly reference: string;
  readonly isHandedBack: boolean;
  /** Somebody is about to hand over what goes out. */
  readonly isReadyToHandBack: boolean;
  /** What waits for approval; null where nothing does. */
  readonly proposedRemedy: DecidableRemedy | null;
}

/**
 * What the other parts of the program know about a return, for the conditions of its moves: the one place where they
 * hook in. Whatever stays null here has to be stated by whoever makes the move, and is kept as that person's word.
 */
export async function readKnownFacts(
  tx: Transaction,
  {
    returnId,
    reference,
    now,
    hasReadings,
    decidedRemedy,
    outgoingRemedy,
    proposedRemedy,
    isHandedBack,
    isReadyToHandBack,
    ...tested
  }: WhatTheReturnSays,
): Promise<KnownFacts> {
  const { declarationId, ...sending } = await readSendingFacts(tx, returnId, now);
  const lines = await tx.settlementLine.findMany({ where: { returnId }, select: { state: true } });
  const kept = await readKeptUnit(tx, returnId);
  const joined = await readJoinedReturns(tx, returnId);
  const remedy = await readRemedyTrack(tx, returnId);
  return {
    ...nothingKnown,
    hasReadings,
    ...sending,
    ...(await readBenchTestFacts(tx, { returnId, ...tested })),
    packedAsTold: isPackedAsTold(await readPacking(tx, declarationId)),
    outgoing: isReadyToHandBack ? await whyNotHandedOver(tx, { id: returnId, reference }, now) : nothingKnown.outgoing,
    quarantineMet: await readQuarantineMet(tx, returnId),
    reservedSerial: kept?.serial ?? null,
    isReleased: decidedRemedy === "repair" ? await isReleased(tx, returnId) : null,
    outgoingIsStopped: await isOutgoingStopped(tx, { returnId, decidedRemedy: outgoingRemedy }),
    noticesGiven:
      proposedRemedy === null
        ? null
        : (await readLegalPrompts(tx, returnId, { remedy: proposedRemedy })).missing.length === 0,
    remedyDelivered: remedyDelivered(remedy.state, decidedRemedy, isHandedBack),
    refundIsAgreed: remedy.state === "refund-agreed" || remedy.state === "refund-paid",
    refundPaidIn: (await readRefundsPaid(tx, returnId)).find(({ minor }) => minor > 0)?.currency ?? null,
    unitGiven: await readUnitGiven(tx, returnId),
    awaitedBackBy: (await readAwaitedBack(tx, returnId))?.dueOn ?? null,
    toldPhotosWhole: await areToldPhotosWhole(tx, returnId),
    // Over the returns of one complaint: of those that were joined to it nothing else asks any more.
    loanIsOut: (await tx.packLoan.count({ where: { returnId: { in: joined }, returnedAt: null } })) > 0,
    unitIsOut: await isAnyUnitOut(tx, joined),
    moneySettled: lines.length === 0 ? await isNothingOwed(tx, returnId) : lines.every(isSettled),
  };
}

const isSettled = ({ state }: { readonly state: string }) => settledLineStates.some((settled) => settled === state);

async function isAnyUnitOut(tx: Transaction, returnIds: readonly string[]): Promise<boolean> {
  const kept = await tx.unitReservation.findMany({
    where: { returnId: { in: [...returnIds] }, endedAt: null },
    select: { packId: true },
  });
  for (const { packId } of kept) if (isUnitOut((await readUnitPlace(tx, packId))?.state ?? null)) return true;
  return false;
}

/** Over the returns of one complaint: what was handed over under one is with the customer whichever goes on. */
async function readUnitGiven(tx: Transaction, returnId: string): Promise<string | null> {
  const returnIds = await readJoinedReturns(tx, returnId);
  const last = await tx.unitReservation.findFirst({
    where: { returnId: { in: returnIds }, ending: "handed-over" },
    orderBy: { endedAt: "desc" },
    select: { pack: { select: { serial: true } } },
  });
  return last?.pack.serial ?? null;
}

/** Without a line somebody has to have said by name that nothing is owed; else whoever closes it states it. */
async function isNothingOwed(tx: Transaction, returnId: string): Promise<true | null> {
  return (await tx.nothingOwed.count({ where: { returnId } })) > 0 ? true : null;
}

async function areToldPhotosWhole(tx: Transaction, returnId: string): Promise<boolean> {
  const taken = await tx.packPhoto.findMany({
    where: { returnId, view: { in: [...toldViews] } },
    distinct: ["view"],
    select: { view: true },
  });
  return toldViews.every((view) => taken.some((photo) => photo.view === view));
}

/** The release belongs to the decision that stands: after an objection the pack is released anew. */
async function isReleased(tx: Transaction, returnId: string): Promise<boolean> {
  return (await tx.packRelease.count({ where: { returnId, decision: { standsFor: { id: returnId } } } })) > 0;
}
