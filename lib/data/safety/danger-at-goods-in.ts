import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { Arrival } from "@/lib/receiving/arrival.schema";
import { dangerInHand } from "@/lib/receiving/danger-in-hand";
import { LEAST_WATCH_HOURS } from "@/lib/receiving/watch-hours";
import { alarmFlags, type WatchReading, watchVerdict } from "@/lib/receiving/watch-readings";
import { flagOfIncident } from "@/lib/safety/incident-flags";
import type { Transaction } from "../database";
import type { FurtherNote, IncidentFacts } from "./open-incident";
import { flagPack, openIncidentUnlessOpen } from "./raise-danger";

/** The return under which a pack lies at goods-in. */
export interface PackAtGoodsIn {
  readonly id: string;
  readonly reference: string;
  readonly packId: string;
  readonly dealer: { readonly id: string; readonly country: string; readonly timeZone: string };
}

/**
 * Flags a pack for the signs seen at goods-in and opens an incident where they always make one, in the transaction of the
 * arrival. What comes back is to be appended to the incident that is open already, once that transaction is over.
 */
export async function raiseAtGoodsIn(
  tx: Transaction,
  actor: Actor,
  row: PackAtGoodsIn,
  { signs, note }: Pick<Arrival, "signs" | "note">,
  now: Date,
): Promise<FurtherNote | null> {
  const danger = dangerInHand(signs);
  if (danger === null) return null;
  const { flag, incident: flags, sentence } = danger;
  const occasion = `arrival ${now.toISOString()}`;
  await flagPack(tx, actor, row, { asked: flag, reason: sentence, facts: { signs: [...signs] }, occasion }, now);
  if (flags.length === 0) return null;
  const told = note === "" ? sentence : `${sentence} ${note}`;
  return openIncidentUnlessOpen(tx, actor, noted(row, flags, now, told), now);
}

/**
 * Sets a pack apart whose new measurement says something alarming that those before it did not, tells of it, and opens an
 * incident known since the measurement. What comes back is to be appended to the one that is open already, once the
 * transaction is over.
 */
export async function raiseOnAlarm(
  tx: Transaction,
  actor: Actor,
  row: PackAtGoodsIn,
  before: readonly WatchReading[],
  reading: WatchReading,
  now: Date,
): Promise<FurtherNote | null> {
  const known = watchVerdict(before, LEAST_WATCH_HOURS);
  const verdict = watchVerdict([...before, reading], LEAST_WATCH_HOURS);
  if (verdict.kind !== "alarm") return null;
  const fresh = verdict.because.filter((sentence) => known.kind !== "alarm" || !known.because.includes(sentence));
  if (fresh.length === 0) return null;
  const reason = `Alarm in quarantine. ${fresh.join(" ")}`;
  const flags = alarmFlags([...before, reading], reading);
  const flag = { asked: flagOfIncident(flags), reason, facts: {}, occasion: `watch ${reading.at.toISOString()}` };
  await flagPack(tx, actor, row, flag, reading.at);
  return openIncidentUnlessOpen(tx, actor, noted(row, flags, reading.at, reason), now);
}

/** What the bench has seen or measured, as an incident keeps it. */
function noted(
  { id: returnId, packId, dealer }: PackAtGoodsIn,
  flags: IncidentFacts["flags"],
  at: Date,
  note: string,
): IncidentFacts {
  const knowledge = [{ kind: "bench-note" as const, at, note }];
  return { packId, returnId, dealerId: dealer.id, country: dealer.country, flags, knowledge };
}
