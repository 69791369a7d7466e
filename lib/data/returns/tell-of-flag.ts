import "server-only";
import type { Actor } from "@/lib/access/actor";
import { graverOf, isSetApart, type SafetyState } from "@/lib/returns/safety-track";
import type { TrackRequest } from "@/lib/returns/track-step";
import type { Transaction } from "../database";
import type { FurtherNote } from "../safety/open-incident";
import { openIncidentUnlessOpen, rankAnew } from "../safety/raise-danger";
import { tellOfDanger } from "../safety/tell-of-danger";

interface FlaggedPack {
  readonly returnId: string;
  readonly reference: string;
  readonly packId: string;
  readonly dealer: { readonly id: string; readonly country: string };
}

interface FlagMoved {
  readonly from: SafetyState;
  readonly to: SafetyState;
  readonly version: number;
  readonly request: TrackRequest<SafetyState>;
}

/**
 * A flag that was raised reaches the safety officer, the service desk and the head of the queue. What a dealer tells opens
 * an incident too: nobody of the house can look at that pack. The incident that is open already comes back, if one is.
 */
export async function tellOfFlag(
  tx: Transaction,
  actor: Actor,
  { returnId, packId, reference, dealer }: FlaggedPack,
  { from, to, version, request }: FlagMoved,
  now: Date,
): Promise<FurtherNote | null> {
  await rankAnew(tx, returnId, { from, to });
  if (!isSetApart(request.to) || graverOf(from, to) !== to) return null;
  await tellOfDanger(tx, { returnId, reference, occasion: `flag ${version}` });
  if (actor.dealerId === null) return null;
  const knowledge = [{ kind: "dealer-entry" as const, at: now, note: request.reason }];
  const { id: dealerId, country } = dealer;
  return openIncidentUnlessOpen(tx, actor, { packId, returnId, dealerId, country, flags: [], knowledge }, now);
}
