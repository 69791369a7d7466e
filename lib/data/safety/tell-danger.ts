import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readSerial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isOpenStatus } from "@/lib/returns/return-status";
import { flagOfIncident } from "@/lib/safety/incident-flags";
import { firstHadAt, type ToldDanger, whyNoPackIsMeant } from "@/lib/safety/told-danger.schema";
import type { Prisma } from "@/prisma/generated/client";
import { asSystem, type Transaction } from "../database";
import { lockPack } from "../returns/track-rows";
import { type FurtherNote, type IncidentFacts, openIncident } from "./open-incident";
import {
  appendNote,
  type FlaggedPack,
  flagPack,
  openIncidentUnlessOpen,
  type PackFlag,
  raiseFlag,
} from "./raise-danger";

export type ToldAnswer =
  | { readonly ok: true; readonly incident: string }
  | { readonly ok: false; readonly field: keyof ToldDanger; readonly sentence: string };

/**
 * Takes a danger that anybody tells about any pack: sets the pack apart, opens an incident or adds to the one that is open, and
 * calls the safety officer and the service lead. As the system, because whoever tells it need not see the case: finance, the
 * administrator, a dealer at whose counter another dealer's customer stands. Of the case nothing comes back. A time without a zone
 * is the teller's: the dealer's, else the one the browser told (`readerZone`), else UTC.
 */
export async function tellDanger(
  actor: Actor,
  told: ToldDanger,
  now = new Date(),
  readerZone: string | null = null,
): Promise<ToldAnswer> {
  if (!may(actor, "raise-safety")) return { ok: false, field: "about", sentence: "This is not yours to do." };
  const unclear = whyNoPackIsMeant(told);
  if (unclear !== null) return { ok: false, field: "about", sentence: unclear };
  if (told.isUnnamed) return tellOfUnnamed(actor, told, now, readerZone);
  let further: FurtherNote | null = null;
  const answer = await asSystem(async (tx): Promise<ToldAnswer> => {
    const found = await findPack(tx, actor, told.about);
    if (typeof found === "string") return { ok: false, field: "about", sentence: found };
    const { pack, row, teller } = found;
    const dealer = teller ?? row?.dealer ?? pack.sale?.dealer ?? pack.dispatchedTo;
    const facts = factsTold(actor, told, { dealer, zone: teller?.timeZone ?? readerZone ?? "UTC" }, now);
    if ("ok" in facts) return facts;
    const flag = { asked: flagOfIncident(told.flags), reason: told.note, facts: { flags: told.flags }, isTold: true };
    const occasion = `told ${now.toISOString()} by ${actor.userId}`;
    const here = { packId: pack.id, dealer: { timeZone: dealer?.timeZone ?? "UTC" } };
    // First, so that nobody hands the pack over meanwhile: the incident is seen by whoever waits for the lock.
    if (row === null) await flagPackAlone(tx, actor, here, flag, now);
    else await flagPack(tx, actor, { ...row, ...here }, { ...flag, occasion }, now);
    const which = { packId: pack.id, returnId: row?.id ?? null };
    further = await openIncidentUnlessOpen(tx, actor, { ...which, ...facts }, now);
    const { reference: incident } = await tx.incident.findFirstOrThrow({
      where: { packId: pack.id, closing: null },
      orderBy: { openedAt: "asc" },
      select: { reference: true },
    });
    return { ok: true, incident };
  });
  if (answer.ok && further !== null) await appendNote(actor, further, now);
  return answer;
}

/** What was told as an incident keeps it, by the dealer concerned and on the teller's clock; or what is missing. */
function factsTold(
  actor: Actor,
  { country: typed, flags, how, knownAt, note }: ToldDanger,
  { dealer, zone }: { readonly dealer: DealerConcerned | null; readonly zone: string },
  now: Date,
): Omit<IncidentFacts, "packId" | "returnId"> | Extract<ToldAnswer, { ok: false }> {
  const at = firstHadAt(knownAt, zone, now);
  if (at === null)
    return { ok: false, field: "knownAt", sentence: "Nobody can have known it in the future. Give day and time." };
  const country = typed === "" ? (dealer?.country ?? "") : typed;
  if (country === "")
    return { ok: false, field: "country", sentence: "Say in which country the pack is, in two letters." };
  const kind = actor.dealerId === null ? how : "dealer-entry";
  return { dealerId: dealer?.id ?? null, country, flags, knowledge: [{ kind, at, note }] };
}

/** A danger of a pack that nobody can name: the incident, its clocks and its calls begin all the same; the pack is named later. */
function tellOfUnnamed(actor: Actor, told: ToldDanger, now: Date, readerZone: string | null): Promise<ToldAnswer> {
  return asSystem(async (tx): Promise<ToldAnswer> => {
    const where = actor.dealerId !== null ? { id: actor.dealerId } : told.dealer === "" ? null : { code: told.dealer };
    const dealer = where === null ? null : await tx.dealer.findUnique({ where, ...dealerSelect });
    if (dealer === null && where !== null)
      return { ok: false, field: "dealer", sentence: "No dealer has this code. Choose one, or none." };
    const zone = actor.dealerId === null ? (readerZone ?? "UTC") : (dealer?.timeZone ?? "UTC");
    const facts = factsTold(actor, told, { dealer, zone }, now);
    if ("ok" in facts) return facts;
    return { ok: true, incident: await openIncident(tx, actor, { packId: null, returnId: null, ...facts }, now) };
  });
}

type DealerConcerned = Prisma.DealerGetPayload<typeof dealerSelect>;
const dealerSelect = { select: { id: true, country: true, timeZone: true } } as const;
const packSelect = {
  id: true,
  dispatchedTo: dealerSelect,
  sale: { select: { dealer: dealerSelect } },
  returns: {
    select: { id: true, reference: true, status: true, dealerId: true, dealer: dealerSelect },
    orderBy: { lodgedAt: "desc" },
  },
} as const;

/** A label is not worth a burn: what is asked for may be read on any paper, or not at all. */
const NOBODY_GOES_NEAR = "Do not go near the pack for it: papers, or a photograph taken before, name it as well.";

/** The pack that is meant, and the return it is told on: of a dealer's own returns alone where a dealer tells it. */
async function findPack(tx: Transaction, actor: Actor, typed: string) {
  const { dealerId } = actor;
  const teller =
    dealerId === null ? null : await tx.dealer.findUniqueOrThrow({ where: { id: dealerId }, ...dealerSelect });
  const isTheirs = (row: { readonly dealerId: string }) => dealerId === null || row.dealerId === dealerId;
  const byReference = readReturnReference(typed);
  if (byReference.kind === "reference") {
    const { reference } = byReference;
    const named = await tx.return.findUnique({ where: { reference }, select: { pack: { select: packSelect } } });
    const row = named?.pack.returns.find((one) => one.reference === reference) ?? null;
    if (named === null || row === null || !isTheirs(row))
      return "There is no such return for you. Give the serial from the label of the pack.";
    return { pack: named.pack, row, teller };
  }
  const bySerial = readSerial(typed);
  if (bySerial.kind !== "serial") return `${serialSentence(bySerial)} ${NOBODY_GOES_NEAR}`;
  const pack = await tx.pack.findUnique({ where: { serial: bySerial.serial }, select: packSelect });
  if (pack === null) return `No pack with this serial is known. ${NOBODY_GOES_NEAR} Telephone meanwhile.`;
  const theirs = pack.returns.filter(isTheirs);
  return { pack, row: theirs.find(({ status }) => isOpenStatus(status)) ?? theirs[0] ?? null, teller };
}

/** Without a return there is none to put at the head of the queue. */
async function flagPackAlone(
  tx: Transaction,
  actor: Actor,
  { packId, dealer }: Pick<FlaggedPack, "packId" | "dealer">,
  flag: Omit<PackFlag, "occasion">,
  at: Date,
): Promise<void> {
  await lockPack(tx, packId);
  await raiseFlag(tx, actor, { ...flag, packId, returnId: null, at, zone: dealer.timeZone });
}
