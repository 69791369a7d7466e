import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import { foldIncident } from "@/lib/safety/fold-incident";
import { flagOfIncident } from "@/lib/safety/incident-flags";
import { readIncidentReference } from "@/lib/safety/incident-reference";
import { asSystem } from "../database";
import { lockPack } from "../returns/track-rows";
import { entriesOf } from "./incidents";
import { appendAfterLast } from "./open-incident";
import { raiseFlag } from "./raise-danger";
import { closedBefore, type IncidentAnswer } from "./raise-incident";

const refuse = (sentence: string): IncidentAnswer => ({ ok: false, sentence });

/**
 * Names the pack of an incident that was told before anybody could: once, by whoever keeps incidents. From then on the pack is set
 * apart and held as if it had been named at once. As the system, because a deputy may do it and the flag is nobody's own row.
 */
export async function nameIncidentPack(
  actor: Actor,
  typedReference: string,
  typedSerial: string,
  now = new Date(),
): Promise<IncidentAnswer> {
  const reference = readIncidentReference(typedReference);
  if (reference === null || !may(actor, "keep-incident")) return refuse("There is no such incident for you.");
  const read = readSerial(typedSerial);
  if (read.kind !== "serial") return { ok: false, field: "serial", sentence: serialSentence(read) };
  return asSystem(async (tx): Promise<IncidentAnswer> => {
    const pack = await tx.pack.findUnique({ where: { serial: read.serial }, select: { id: true } });
    if (pack === null) return { ok: false, field: "serial", sentence: "No pack with this serial is known." };
    // First, so that nobody hands the pack over meanwhile.
    await lockPack(tx, pack.id);
    const incident = await tx.incident.findUnique({
      where: { reference },
      select: {
        id: true,
        closing: { select: { closedAt: true } },
        dealer: { select: { timeZone: true } },
        entries: { select: { sequence: true, content: true, at: true, byUserId: true, byName: true } },
      },
    });
    if (incident === null) return refuse("There is no such incident for you.");
    if (incident.closing !== null) return closedBefore;
    const { count } = await tx.incident.updateMany({
      where: { id: incident.id, packId: null },
      data: { packId: pack.id },
    });
    if (count === 0) return refuse("Its pack is named already. Look at it as it is now.");
    const { flags } = foldIncident(entriesOf(incident.entries));
    await raiseFlag(tx, actor, {
      packId: pack.id,
      returnId: null,
      asked: flagOfIncident(flags),
      reason: `Named as the pack of incident ${reference}.`,
      facts: { flags },
      at: now,
      zone: incident.dealer?.timeZone ?? "UTC",
    });
    await appendAfterLast(tx, actor, incident.id, [{ kind: "pack", serial: read.serial }], now);
    return { ok: true, reference };
  });
}
