import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import {
  mayBegin,
  type NewSet,
  type SetEventKind,
  type SetRefusal,
  type SetStanding,
  type SetStep,
  setEvents,
  setReference,
  setRefusals,
  standingOfSet,
  stepsOfSet,
  whyNotStepped,
} from "@/lib/reliability/affected-set";
import { compareByWords, comparisons } from "@/lib/reliability/compare-by";
import { asActor, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { breaksUnique } from "../unique-violation";
import { findAffectedPacks } from "./affected-packs";
import { type AtStake, readAtStake } from "./at-stake";
import { readDealersHoldingAsSystem } from "./own-held-back";

export interface AffectedSetView {
  readonly number: number;
  /** What its packs share, in words. */
  readonly shares: string;
  readonly why: string;
  readonly packs: number;
  readonly standing: SetStanding;
  readonly events: readonly {
    readonly kind: SetEventKind;
    readonly why: string;
    readonly byName: string;
    readonly at: Date;
  }[];
  /** What this person may do with it now. */
  readonly steps: readonly SetStep["step"][];
  /** Where its packs are in somebody's hands; null unless they are held back. */
  readonly atStake: AtStake | null;
}

const eventSelect = { kind: true, why: true, byUserId: true, byName: true, at: true } as const;

/** The sets, newest first; null for whoever may not propose one. */
export async function listAffectedSets(actor: Actor): Promise<readonly AffectedSetView[] | null> {
  if (!may(actor, "propose-affected-set")) return null;
  return asActor(actor, async (tx) => {
    const rows = await tx.affectedSet.findMany({
      orderBy: { number: "desc" },
      select: {
        id: true,
        number: true,
        by: true,
        group: true,
        fromSerial: true,
        toSerial: true,
        why: true,
        _count: { select: { packs: true } },
        events: { orderBy: { sequence: "asc" }, select: eventSelect },
      },
    });
    const sets: AffectedSetView[] = [];
    for (const { id, number, why, _count, events, ...definition } of rows) {
      const known = events.map((event) => ({ ...event, kind: readSetEvent(event.kind) }));
      const standing = standingOfSet(known);
      sets.push({
        number,
        why,
        shares: sharesOf(definition),
        packs: _count.packs,
        standing,
        events: known,
        steps: stepsOfSet(actor, standing),
        atStake: standing.isStopped ? await readAtStake(tx, id) : null,
      });
    }
    return sets;
  });
}

function sharesOf({ by, group, fromSerial, toSerial }: Record<"by" | "group", string> & Range): string {
  const attribute = comparisons.find((one) => one === by);
  const name = attribute === undefined ? by : compareByWords[attribute].name;
  const range =
    fromSerial === null && toSerial === null ? "" : `, from ${fromSerial ?? "the first"} to ${toSerial ?? "the last"}`;
  return `${name} ${group}${range}`;
}

interface Range {
  readonly fromSerial: string | null;
  readonly toSerial: string | null;
}

export function readSetEvent(stored: string): SetEventKind {
  const kind = setEvents.find((known) => known === stored);
  if (kind === undefined) throw new RangeError(`affected set: ${stored} is unknown`);
  return kind;
}

export type SetAnswer =
  | { readonly ok: true; readonly number: number }
  | { readonly ok: false; readonly reason: SetRefusal | "not-a-serial"; readonly sentence: string };

const refused = (reason: SetRefusal): SetAnswer => ({ ok: false, reason, sentence: setRefusals[reason] });

/** Names a set with the packs that share its cause at this moment; frozen or held back at once by those who may. */
export async function beginAffectedSet(actor: Actor, set: NewSet, now = new Date()): Promise<SetAnswer> {
  if (!mayBegin(actor, set.as)) return refused("not-allowed");
  const found = await findAffectedPacks(actor, set);
  if (found === null) return refused("not-allowed");
  if (found.kind === "not-a-serial") return { ok: false, reason: "not-a-serial", sentence: found.sentence };
  if (found.packs.length === 0) return refused("names-no-pack");
  const serials = found.packs.map(({ serial }) => serial);
  const events: readonly SetEventKind[] =
    set.as === "proposed" ? ["proposed"] : set.as === "frozen" ? ["frozen"] : ["frozen", "stopped"];
  const { by, group, from, to, why } = set;
  const dealerIds = set.as === "stopped" ? await readDealersHoldingAsSystem({ serials }) : [];
  return asActor(actor, async (tx) => {
    const [next] = await tx.$queryRaw<{ number: number }[]>`SELECT nextval('affected_set_number')::int AS "number"`;
    if (next === undefined) throw new RangeError("affected set: no number was given");
    const { number } = next;
    const { id } = await tx.affectedSet.create({
      data: {
        number,
        by,
        group,
        fromSerial: blankAsNull(from),
        toSerial: blankAsNull(to),
        why,
        createdByUserId: actor.userId,
        createdByName: actor.name,
        createdAt: now,
      },
      select: { id: true },
    });
    await tx.$executeRaw`INSERT INTO "AffectedSetPack" ("setId", "packId")
      SELECT ${id}::uuid, p."id" FROM "Pack" p WHERE p."serial" = ANY(${serials}::text[])`;
    for (const [index, kind] of events.entries())
      await addEvent(tx, actor, { setId: id, number, sequence: index + 1, kind, why, at: now }, dealerIds);
    return { ok: true, number };
  });
}

const blankAsNull = (typed = "") => (typed.trim() === "" ? null : typed.trim());

/** Freezes, drops, holds back or lets go, by those who may, as an event of its own. */
export async function stepAffectedSet(actor: Actor, step: SetStep, now = new Date()): Promise<SetAnswer> {
  if (!may(actor, "propose-affected-set")) return refused("not-allowed");
  const dealerIds = step.step === "stopped" ? await readDealersHoldingAsSystem({ setNumber: step.number }) : [];
  try {
    return await asActor(actor, async (tx) => {
      const set = await tx.affectedSet.findUnique({
        where: { number: step.number },
        select: { id: true, events: { orderBy: { sequence: "asc" }, select: eventSelect } },
      });
      if (set === null) return refused("not-found");
      if (set.events.length !== step.seenEvents) return refused("someone-changed-this");
      const standing = standingOfSet(set.events.map((event) => ({ ...event, kind: readSetEvent(event.kind) })));
      const why = whyNotStepped(actor, standing, step.step);
      if (why !== null) return refused(why);
      const sequence = set.events.length + 1;
      const { number, step: kind, why: because } = step;
      await addEvent(tx, actor, { setId: set.id, number, sequence, kind, why: because, at: now }, dealerIds);
      return { ok: true, number: step.number };
    });
  } catch (error) {
    if (breaksUnique(error, "AffectedSetEvent_setId_sequence_key")) return refused("someone-changed-this");
    throw error;
  }
}

interface EventToAdd {
  readonly setId: string;
  readonly number: number;
  readonly sequence: number;
  readonly kind: SetEventKind;
  readonly why: string;
  readonly at: Date;
}

/** Where packs are held back, those in charge and the dealers who have some are told in the same transaction. */
async function addEvent(
  tx: Transaction,
  { userId, name, role }: Actor,
  { number, ...event }: EventToAdd,
  dealerIds: readonly string[],
): Promise<void> {
  await tx.affectedSetEvent.createMany({ data: [{ ...event, byUserId: userId, byName: name, byRole: role }] });
  if (event.kind !== "stopped") return;
  const told = { kind: "set-held-back", reference: setReference(number), occasion: `event ${event.sequence}` } as const;
  for (const office of ["service-lead", "safety-officer"] as const)
    await queueNotice(tx, { ...told, to: { role: office } });
  for (const dealerId of dealerIds) await queueNotice(tx, { ...told, kind: "own-held-back", to: { dealerId } });
}
