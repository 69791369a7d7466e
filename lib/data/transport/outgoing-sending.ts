import "server-only";
import { z } from "zod";
import type { OutgoingRefusal } from "@/lib/returns/outgoing-refusal";
import { isUnitOut } from "@/lib/returns/unit-place";
import type { OutgoingLeg } from "@/lib/transport/leg";
import { whyNotLeaving } from "@/lib/transport/ready-to-leave";
import type { Transaction } from "../database";
import { type KeptUnit, readKeptUnit } from "../remedies/replacement-units";
import { readJourneyEnd } from "../returns/journey-end";
import { readPackTracks } from "../returns/track-rows";
import { isPackedAsTold, readPacking } from "./packing-check";
import { readTransportIn, type TransportView } from "./transport";

/** Why a pack of a return may not leave along a way out, and the declaration it would leave under. */
export interface Leaving {
  readonly why: OutgoingRefusal | null;
  readonly declarationId: string | null;
  readonly transportClass: string | null;
}

/**
 * Whether the pack that a return sends along a way out may be given to a carrier. Give it a transaction that sees what the
 * house sees: the class follows from tests, work, flags and incidents that no dealer reads. With `serial` it has to be that
 * pack which travels.
 */
export async function readLeaving(
  tx: Transaction,
  reference: string,
  leg: OutgoingLeg | "unit-to-maker",
  now: Date,
  serial?: string,
): Promise<Leaving> {
  const transport = await readTransportIn(tx, reference, leg, now);
  if (transport === null || (serial !== undefined && transport.serial !== serial)) return nothingDeclared;
  return {
    why: await whyNot(tx, transport),
    declarationId: transport.declaration?.id ?? null,
    transportClass: transport.declaration?.transportClass ?? null,
  };
}

/**
 * Why what is handed over with a return was never in order for a carrier. Null where "sent" was recorded under its class: what
 * has arrived is not asked once more whether it may leave, however long ago its leave ran out.
 */
export async function whyNotHandedOver(
  tx: Transaction,
  row: { readonly id: string; readonly reference: string },
  now: Date,
): Promise<OutgoingRefusal | null> {
  const kept = await readKeptUnit(tx, row.id);
  if (await wasSent(tx, row.id, kept)) return null;
  return (await readLeaving(tx, row.reference, "to-dealer", now)).why;
}

const sentFactsSchema = z.object({
  serial: z.string().nullable().catch(null),
  declarationId: z.string().nullable().catch(null),
});

/**
 * Whether the remedy that stands was sent under a class: as the pack from stock that is kept, on the journey it is on or has
 * ended at the dealer's, or as the returned one itself, since it came in last. What came back on the way leaves anew.
 */
async function wasSent(tx: Transaction, returnId: string, kept: KeptUnit | null): Promise<boolean> {
  const since = kept === null ? null : await unitLeftAt(tx, kept);
  if (kept !== null && since === null) return false;
  const state = kept === null ? { in: ["sent", "received"] } : {};
  const last = await tx.trackMove.findFirst({
    where: { to: "sent", track: { returnId, track: "remedy", state } },
    orderBy: { sequence: "desc" },
    select: { facts: true, at: true, return: { select: { packId: true } } },
  });
  if (last === null || last.return === null) return false;
  const begun = since ?? (await readJourneyEnd(tx, last.return.packId));
  const sent = sentFactsSchema.safeParse(last.facts);
  return (
    sent.success &&
    sent.data.declarationId !== null &&
    sent.data.serial === (kept?.serial ?? null) &&
    (begun === null || last.at >= begun)
  );
}

/** When the unit kept left for where it is now, with a carrier or at the dealer's; null where it is elsewhere or never left. */
async function unitLeftAt(tx: Transaction, { packId, reservedAt }: KeptUnit): Promise<Date | null> {
  const { custody } = await readPackTracks(tx, packId);
  if (custody.id === null || !isUnitOut(custody.state)) return null;
  const left = await tx.trackMove.findFirst({
    where: { trackId: custody.id, to: "with-carrier-out", at: { gte: reservedAt } },
    orderBy: { sequence: "desc" },
    select: { at: true },
  });
  return left?.at ?? null;
}

const nothingDeclared: Leaving = { why: "outgoing-no-class", declarationId: null, transportClass: null };

async function whyNot(
  tx: Transaction,
  { declaration, sending, orders }: TransportView,
): Promise<OutgoingRefusal | null> {
  if (sending.kind === "may-send" && orders?.kind !== "pack") return "outgoing-no-orders";
  return whyNotLeaving({
    sending,
    labelPrinted: declaration?.prints.some(({ kind }) => kind === "label") ?? false,
    packedAsTold: isPackedAsTold(await readPacking(tx, declaration?.id ?? null)),
  });
}
