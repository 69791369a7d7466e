import "server-only";
import type { Actor } from "@/lib/access/actor";
import { groupSerial, type Serial } from "@/lib/packs/serial";
import { type Danger, type DangerSign, dangerLabels } from "@/lib/returns/danger-signs";
import { flagOfDanger } from "@/lib/returns/safety-track";
import type { KnowledgeKind } from "@/lib/safety/first-knowledge";
import type { FlagEvidence } from "@/lib/safety/incident-flags";
import { flagsIn } from "@/lib/safety/incident-flags";
import type { Transaction } from "../database";
import { lockPack } from "../returns/track-rows";
import type { FurtherNote } from "./open-incident";
import { flagForReadings, openIncidentUnlessOpen, raiseFlag } from "./raise-danger";
import { tellOfDanger } from "./tell-of-danger";

/** A danger that became known although no return was sent. */
export interface EarlyDanger {
  readonly dealerId: string;
  readonly serial: Serial;
  readonly danger: Danger;
  readonly findings: FlagEvidence["findings"];
  readonly how: KnowledgeKind;
  readonly firstKnownAt: Date;
}

/** Readings that are brought for an open return and show a danger before they are added to it. */
export interface DangerInReadings {
  readonly returnId: string;
  readonly sha256: string;
  readonly findings: FlagEvidence["findings"];
}

/** Sets the pack of an open return apart for what readings brought for it show, with an incident where a return would open one. */
export async function raiseUnderReturn(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name" | "role">,
  { returnId, sha256, findings }: DangerInReadings,
  now: Date,
): Promise<FurtherNote | null> {
  const row = await tx.return.findUniqueOrThrow({ where: { id: returnId }, include: { dealer: true } });
  await flagForReadings(tx, actor, row, sha256, now);
  const flags = flagsIn({ dangerSigns: [], conditions: [], findings });
  if (flags.length === 0) return null;
  const { packId, dealerId, dealer } = row;
  const note = "Found in readings that were brought for the return.";
  const knowledge = [{ kind: "file-analysis", at: now, note }] as const;
  const facts = { packId, returnId, dealerId, country: dealer.country, flags, knowledge };
  return openIncidentUnlessOpen(tx, actor, facts, now);
}

/** Signs of danger told in a return that is not sent yet, in words. */
export function toldInUnsentReturn(signs: readonly DangerSign[]): string {
  return `Told in a return that is not sent yet: ${signs.map((sign) => dangerLabels[sign]).join("; ")}.`;
}

/**
 * Sets a pack apart for what was told or read before any return was sent, and tells the house of it: with an incident where
 * a return would open one, else by the serial, because nobody of the house sees an unsent return. To be called in a system
 * transaction: a pack without a return shows its flag to no dealer. What comes back is to be appended once the transaction
 * is over.
 */
export async function raiseBeforeReturn(
  tx: Transaction,
  actor: Pick<Actor, "userId" | "name" | "role">,
  { dealerId, serial, danger, findings, how, firstKnownAt }: EarlyDanger,
  now: Date,
): Promise<FurtherNote | "raised" | "no-such-pack"> {
  const pack = await tx.pack.findUnique({ where: { serial }, select: { id: true } });
  if (pack === null) return "no-such-pack";
  const { country, timeZone: zone } = await tx.dealer.findUniqueOrThrow({
    where: { id: dealerId },
    select: { country: true, timeZone: true },
  });
  await lockPack(tx, pack.id);
  const signs = danger.kind === "none" ? [] : [...danger.signs];
  const note =
    signs.length === 0 ? "The readings sent before the return was show a danger." : toldInUnsentReturn(signs);
  const asked = flagOfDanger(danger);
  await raiseFlag(tx, actor, { packId: pack.id, returnId: null, asked, reason: note, facts: { signs }, at: now, zone });
  const flags = flagsIn({ dangerSigns: signs, conditions: [], findings });
  if (flags.length === 0) {
    await tellOfDanger(tx, { reference: groupSerial(serial), occasion: note });
    return "raised";
  }
  const knowledge = [{ kind: how, at: firstKnownAt, note }];
  const facts = { packId: pack.id, returnId: null, dealerId, country, flags, knowledge };
  return (await openIncidentUnlessOpen(tx, actor, facts, now)) ?? "raised";
}
