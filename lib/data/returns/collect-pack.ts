import "server-only";
import type { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { collectPack } from "@/lib/returns/specialist-collection";
import type { specialistCollectionSchema } from "@/lib/returns/specialist-collection.schema";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { queueNotice } from "../notices/notices";
import { stepOfTrack, type TrackAnswer } from "./move-track";
import { passedOn } from "./ready-turn";

export type SpecialistCollection = z.output<typeof specialistCollectionSchema>;

/** Writes down that a specialist took the pack of a return away, and tells the dealer; its flag stays as it is. */
export async function recordCollection(
  actor: Actor,
  reference: string,
  { collectedBy, paperNumber, collectedOn, keptAt, seenVersion }: SpecialistCollection,
  now = new Date(),
): Promise<TrackAnswer> {
  const kept = keptAt === "" ? "" : ` Kept whole as evidence: ${keptAt}.`;
  const reason = `Collected by ${collectedBy}, paper number ${paperNumber}, on ${collectedOn}.${kept}`;
  const answer = await stepOfTrack(
    actor,
    reference,
    reason,
    now,
    ({ packId, returnId, reference: of, dealer, tracks, zone }, tx) => ({
      row: tracks.custody,
      subject: { track: "custody", packId },
      outcome: collectPack(
        actor,
        {
          ...tracks.custody,
          safety: tracks.safety.state,
          isOnHold: tracks.hold.state === "held",
          isHeldByIncident: tracks.heldBecause.length > 0,
          today: civilDateAt(now, zone),
        },
        { collectedOn, reason, keptAt, seenVersion },
      ),
      facts: { collectedBy, paperNumber, collectedOn, ...(keptAt === "" ? {} : { keptAt }) },
      also: async () => {
        const occasion = `custody ${tracks.custody.version + 1}`;
        await queueNotice(tx, { kind: "collected", reference: of, returnId, occasion, to: { dealerId: dealer.id } });
      },
    }),
  );
  return passedOn(answer, reference, now);
}
