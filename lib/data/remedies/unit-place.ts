import "server-only";
import type { Actor } from "@/lib/access/actor";
import { handSignLabels } from "@/lib/receiving/arrival.schema";
import { noSign, type UnitBack, type UnitMeasured, unitCameBackSchema, whyUnitStays } from "@/lib/receiving/unit-back";
import { alarmFlags } from "@/lib/receiving/watch-readings";
import { atTheWorks, type CustodyPlace } from "@/lib/returns/custody-track";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isSetApart } from "@/lib/returns/safety-track";
import { whyNotThisPack } from "@/lib/returns/scan-of-pack";
import { type TrackRequest, trackRefused } from "@/lib/returns/track-step";
import { moveUnit } from "@/lib/returns/unit-place";
import type { IncidentFlag } from "@/lib/safety/incident-flags";
import { toldDangerSchema } from "@/lib/safety/told-danger.schema";
import type { Prisma } from "@/prisma/generated/client";
import { asActor, asSystem, type Transaction } from "../database";
import type { MoverName } from "../returns/history";
import { passTurnsOfReadyAsSystem } from "../returns/ready-turn";
import { lockPack, readPackTracks, readRemedyTrack, recordCustody, recordStep } from "../returns/track-rows";
import { followUnitAtDealersAsSystem } from "../returns/unit-turn";
import { tellDanger } from "../safety/tell-danger";
import { readToldSince } from "../safety/told-since";
import { readLeaving } from "../transport/outgoing-sending";
import { type FollowedUnit, readKeptUnit, readUnitsLeftAway } from "./replacement-units";
import { readUnitPlace } from "./unit-custody";

export type UnitPlaceAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly field: "to" | "scanned" | "reason" | "boxCondition" | "surfaceC";
      readonly sentence: string;
    };

/**
 * Records where a pack that was sent in place of the returned one is now; what is there is scanned, what is missing is not. What
 * comes back is looked at and measured, lies apart for the hours of a returned pack, and is measured again before it lies on the
 * shelf; a sign or an alarm sets it apart and calls the safety officer.
 */
export async function recordWhereUnitIs(
  actor: Actor,
  typedReference: string,
  request: TrackRequest<CustodyPlace> & {
    readonly scanned: string;
    /** Serial of one that was given up before; without it, it is the pack that is kept. */
    readonly unit?: string;
    /** How it looked when it came back; goes with the step into quarantine. */
    readonly back?: UnitBack;
    /** Goes with the steps into quarantine and out of it. */
    readonly measured?: UnitMeasured;
  },
  now = new Date(),
): Promise<UnitPlaceAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return refuse("to", "There is no such return for you.");
  // As the system: class and build of a pack from stock are the house's, and one sentence comes out.
  const leaving =
    request.to === "with-carrier-in"
      ? await asSystem((tx) => readLeaving(tx, reading.reference, "unit-to-maker", now, request.unit || undefined))
      : null;
  let danger: (UnitDanger & { readonly country: string }) | null = null;
  const answer = await asActor(actor, async (tx): Promise<UnitPlaceAnswer> => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: { id: true, reference: true, dealer: { select: { timeZone: true, country: true } } },
    });
    const unit = row === null ? null : await findFollowed(tx, row.id, request.unit);
    if (row === null || unit === null) return refuse("to", "This return follows no such pack any more.");
    await lockPack(tx, unit.packId);
    const custody = await readUnitPlace(tx, unit.packId);
    if (custody === null) return refuse("to", trackRefused("not-from-here").sentence);
    const step = moveUnit(actor, custody, request);
    if (step.kind === "refused") return refuse(step.why === "unit-unseen" ? "reason" : "to", step.sentence);
    const scan = { scanned: request.scanned, cannotBeRead: false };
    const why = request.to === "missing" ? null : whyNotThisPack(scan, { serial: unit.serial, reference: unit.serial });
    if (why !== null) return refuse("scanned", trackRefused(why).sentence);
    if (leaving !== null && leaving.why !== null) return refuse("to", trackRefused(leaving.why).sentence);
    const looked = await lookAt(tx, { ...unit, custodyId: custody.id }, step.to, request, now);
    // It was on its way to that dealer, or lay there; a pack from stock has no country of its own.
    danger = looked.danger === null ? null : { ...looked.danger, country: row.dealer.country };
    if (looked.refused !== null) return looked.refused;
    const said = { reason: request.reason, at: now, zone: row.dealer.timeZone };
    const isRecorded = await recordCustody(tx, actor, { packId: unit.packId, returnId: row.id, custody }, step, {
      ...said,
      facts: leaving === null ? looked.facts : { declarationId: leaving.declarationId },
    });
    if (!isRecorded) return refuse("to", trackRefused("someone-changed-this").sentence);
    if (atTheWorks.includes(step.to)) await keptReadyAgain(tx, actor, row.id, said);
    return { ok: true };
  });
  if (answer.ok) await followUnitAtDealersAsSystem(reading.reference, now);
  if (answer.ok) await passTurnsOfReadyAsSystem(now, reading.reference);
  const told = danger === null ? null : await tellDanger(actor, toldDangerSchema.parse(danger), now);
  if (told?.ok === false) throw new Error(`The danger of a pack that came back was not told: ${told.sentence}`);
  return answer;
}

interface UnitDanger {
  readonly about: string;
  readonly flags: readonly IncidentFlag[];
  readonly note: string;
}

interface Looked {
  readonly refused: UnitPlaceAnswer | null;
  /** To be told once the transaction is over. */
  readonly danger: UnitDanger | null;
  readonly facts: Prisma.InputJsonObject;
}

/** What was seen and measured with a step into quarantine or out of it; other steps ask nothing. */
async function lookAt(
  tx: Transaction,
  unit: FollowedUnit & { readonly custodyId: string | null },
  to: CustodyPlace,
  { back, measured }: { readonly back?: UnitBack; readonly measured?: UnitMeasured },
  now: Date,
): Promise<Looked> {
  const nothing = { refused: null, danger: null, facts: {} };
  const tell = (flags: readonly IncidentFlag[], note: string): UnitDanger => ({ about: unit.serial, flags, note });
  if (to === "quarantine") {
    if (back === undefined) return { ...nothing, refused: refuse("boxCondition", "Choose how the box looks.") };
    if (measured === undefined) return { ...nothing, refused: refuse("surfaceC", "Give the surface temperature.") };
    const reading = { at: now, ...measured };
    const flags = alarmFlags([reading], reading);
    const facts = { ...back, ...measured };
    const { sign } = back;
    if (sign === noSign && flags.length === 0) return { ...nothing, facts };
    const seen = sign === noSign ? "warmer than the room" : handSignLabels[sign].toLowerCase();
    return { ...nothing, danger: tell(flags, `Came back from its journey: ${seen}.`), facts };
  }
  if (to !== "store") return nothing;
  if (measured === undefined) return { ...nothing, refused: refuse("surfaceC", "Give the surface temperature.") };
  const came = await tx.trackMove.findFirst({
    where: { trackId: unit.custodyId ?? "", to: "quarantine" },
    orderBy: { sequence: "desc" },
    select: { at: true, facts: true },
  });
  if (came === null) return nothing;
  const { handledAs } = await readPackTracks(tx, unit.packId);
  const stays = whyUnitStays(
    {
      since: came.at,
      came: unitCameBackSchema.safeParse(came.facts).data ?? null,
      measured,
      wasToldSince: (await readToldSince(tx, unit.packId)).length > 0,
      isSetApart: isSetApart(handledAs),
    },
    now,
  );
  if (stays === null) return { ...nothing, facts: { ...measured } };
  const refused = refuse("to", stays.sentence);
  if (stays.kind === "stays") return { ...nothing, refused };
  const newest = { at: now, ...measured };
  return { ...nothing, refused, danger: tell(alarmFlags(stays.readings, newest), stays.sentence) };
}

async function findFollowed(tx: Transaction, returnId: string, unit = ""): Promise<FollowedUnit | null> {
  const kept = await readKeptUnit(tx, returnId);
  if (unit === "" || kept?.serial === unit) return kept;
  return (await readUnitsLeftAway(tx, returnId)).find(({ serial }) => serial === unit) ?? null;
}

/** What came back was not received: the remedy of the return that keeps it stands where it stood before it was sent. */
async function keptReadyAgain(
  tx: Transaction,
  actor: MoverName,
  returnId: string,
  said: { readonly reason: string; readonly at: Date; readonly zone: string },
): Promise<void> {
  const remedy = await readRemedyTrack(tx, returnId);
  if (remedy.id === null || remedy.state !== "sent" || (await readKeptUnit(tx, returnId)) === null) return;
  const { state: from, version } = remedy;
  await recordStep(tx, actor, remedy.id, { from, to: "reserved", version: version + 1, ...said, returnId, facts: {} });
}

function refuse(field: Exclude<UnitPlaceAnswer, { ok: true }>["field"], sentence: string): UnitPlaceAnswer {
  return { ok: false, field, sentence };
}
