import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { ratedWh } from "@/lib/receiving/energy-in-box";
import { readReturnReference } from "@/lib/returns/return-reference";
import { readReturnStatus } from "@/lib/returns/return-status";
import { isSetApart } from "@/lib/returns/safety-track";
import { type SendingState, sendingState } from "@/lib/transport/authorisation";
import { isInbound, type Leg, wayOf } from "@/lib/transport/leg";
import { type PackingOrders, packingOrders } from "@/lib/transport/packing-orders";
import type { ClassProposal } from "@/lib/transport/propose-class";
import { isStricter, readTransportClass, type TransportClass } from "@/lib/transport/transport-class";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { asActor, asSystem, type Transaction } from "../database";
import { readEnvironment } from "../env";
import { shownSerial } from "../packs/pack-words";
import { whyKeptUnitIsStopped } from "../remedies/replacement-units";
import { type PackTracks, readPackTracks } from "../returns/track-rows";
import { readStopsOfReturned } from "../safety/outgoing-stop";
import { type TransportRow, transportSelect } from "./transport-evidence";
import { type RulesInForce, rulesInForce, rulesOfDeclaration } from "./transport-rules";
import { readTravelling, type Travelling } from "./travelling-pack";

export interface DeclarationView {
  readonly id: string;
  readonly transportClass: TransportClass;
  readonly proposedClass: TransportClass;
  readonly criteria: Readonly<Record<string, string>>;
  readonly inEquipment: boolean;
  readonly reason: string;
  readonly ruleVersion: string;
  readonly declaredByName: string;
  readonly declaredAt: Date;
  /** Who had proposed a class before it; null where nobody had, and for a dealer. */
  readonly answersName: string | null;
  readonly prints: readonly { readonly kind: string; readonly printedAt: Date; readonly printedByName: string }[];
}

/** A class that somebody of the bench proposed and nobody has declared, or declared otherwise, since. */
export interface ProposedClassView {
  readonly transportClass: TransportClass;
  readonly criteria: Readonly<Record<string, string>>;
  readonly inEquipment: boolean;
  readonly consignee: string | null;
  readonly reason: string;
  readonly proposedByUserId: string;
  readonly proposedByName: string;
  readonly proposedAt: Date;
}

/** All that stands about the transport of one pack along one way of a return. */
export interface TransportView {
  readonly reference: string;
  readonly leg: Leg;
  /** It is the pack kept in place of the returned one that travels. */
  readonly isFromStock: boolean;
  /** Another pack goes out in place of the returned one, and none is kept for it yet. */
  readonly unitIsMissing: boolean;
  /** Name and address of the supplier a sample goes to. */
  readonly consignee: string | null;
  readonly serial: string;
  readonly serialShown: string;
  readonly modelName: string;
  readonly revisionCode: string;
  readonly testSummaryReference: string;
  readonly massKg: number;
  readonly energyWh: number;
  readonly dealer: { readonly name: string; readonly town: string; readonly country: string };
  readonly proposal: ClassProposal;
  /** The last one counts; null while nobody declared a class. */
  readonly declaration: DeclarationView | null;
  readonly declarations: number;
  readonly waiting: ProposedClassView | null;
  readonly sending: SendingState;
  /** By the rules the class was declared under, whatever is in force since. Null while there is no class to pack by. */
  readonly orders: PackingOrders | null;
  readonly rules: RulesInForce;
  readonly frozenBecause: readonly string[];
  /** Number for whoever needs help with the load on its way; null where the house has set none. */
  readonly emergencyPhone: string | null;
}

/**
 * The transport side of one way of a return; null where there is none or the person may not see it. The ways out are the
 * house's own: a dealer sees those on which it sends.
 */
export async function readTransport(
  actor: Actor,
  typedReference: string,
  now = new Date(),
  leg: Leg = "to-maker",
): Promise<TransportView | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return null;
  if (!may(actor, "read-build-record") && !(isInbound(leg) && may(actor, "read-own-returns"))) return null;
  const found = await findAsActor(actor, reading.reference, leg, now);
  if (found === null) return null;
  // As the system: a pack is held whichever dealer raised the flag or told of the incident, and its class is asked of all
  // that is known, of which a dealer sees less.
  const seesAll = may(actor, "read-build-record");
  const house = await asSystem((tx) => readAsHouse(tx, found, seesAll, now));
  return transportView(found, house, now);
}

/** The build and the returns of a pack from stock are the house's: for its dealer the house reads them, of an own return alone. */
async function findAsActor(actor: Actor, reference: string, leg: Leg, now: Date): Promise<FoundTransport | null> {
  if (leg !== "unit-to-maker" || may(actor, "read-build-record"))
    return asActor(actor, (tx) => findTransport(tx, reference, leg, now));
  const own = await asActor(actor, (tx) => tx.return.findUnique({ where: { reference }, select: { id: true } }));
  return own === null ? null : asSystem((tx) => findTransport(tx, reference, leg, now));
}

/** The same inside a transaction that sees every incident of the pack. */
export async function readTransportIn(
  tx: Transaction,
  reference: string,
  leg: Leg,
  now: Date,
): Promise<TransportView | null> {
  const found = await findTransport(tx, reference, leg, now);
  if (found === null) return null;
  const tracks = await readPackTracks(tx, found.travelling.packId);
  return transportView(found, { tracks, evidenceStands: doesEvidenceStand(found) }, now);
}

interface AsHouse {
  readonly tracks: PackTracks;
  readonly evidenceStands: boolean;
}

async function readAsHouse(tx: Transaction, found: FoundTransport, seesAll: boolean, now: Date): Promise<AsHouse> {
  const seen = seesAll ? found : await findTransport(tx, found.row.reference, found.leg, now);
  const tracks = await readPackTracks(tx, found.travelling.packId);
  return { tracks, evidenceStands: seen !== null && doesEvidenceStand(seen) };
}

/** Nothing that is known today asks for a stricter class than was proposed when the one that counts was declared. */
function doesEvidenceStand({ last, travelling: { proposal } }: FoundTransport): boolean {
  return last === null || !isStricter(proposal.transportClass, readTransportClass(last.proposedClass));
}

/** Whether its box is packed now: it may be sent, and there are orders to pack it by. */
export function isToBePacked({ sending, orders }: TransportView): boolean {
  return sending.kind === "may-send" && orders?.kind === "pack";
}

interface FoundTransport {
  readonly row: TransportRow;
  readonly leg: Leg;
  readonly travelling: Travelling;
  /** The last declaration for the pack that travels; null while nobody declared one. */
  readonly last: TransportRow["declarations"][number] | null;
  readonly isStopped: boolean;
  readonly rules: RulesInForce;
  readonly usedRules: Awaited<ReturnType<typeof rulesOfDeclaration>>;
}

async function findTransport(tx: Transaction, reference: string, leg: Leg, now: Date): Promise<FoundTransport | null> {
  const row = await tx.return.findUnique({ where: { reference }, select: transportSelect(leg) });
  if (row === null) return null;
  const travelling = await readTravelling(tx, row, leg);
  const last = lastFor(row, travelling);
  return {
    row,
    leg,
    travelling,
    last,
    isStopped: leg === "to-dealer" && (await isTravellingStopped(tx, row.id, travelling)),
    rules: await rulesInForce(tx, civilDateAt(now, row.dealer.timeZone)),
    usedRules: last === null ? null : await rulesOfDeclaration(tx, last),
  };
}

/** Held back goes nothing to a customer; a sample of it may go to whoever made it. */
async function isTravellingStopped(tx: Transaction, returnId: string, { stockPackId }: Travelling): Promise<boolean> {
  return stockPackId === null
    ? (await readStopsOfReturned(tx, returnId)).length > 0
    : (await whyKeptUnitIsStopped(tx, returnId)) !== null;
}

/**
 * The declaration that counts for the pack that travels: a class declared for another pack from stock says nothing of the one
 * that is kept now, and one from before the last journey ended was used up by it.
 */
export function lastFor(
  { declarations }: Pick<TransportRow, "declarations">,
  { stockPackId, since }: Pick<Travelling, "stockPackId" | "since">,
): FoundTransport["last"] {
  const [last] = declarations;
  if (last === undefined || last.stockPackId !== stockPackId) return null;
  return since === null || last.declaredAt >= since ? last : null;
}

/** What was proposed for the pack that travels and waits for a declaration; null where nothing does. */
export function waitingProposal(
  { declarations, proposedClasses }: Pick<TransportRow, "declarations" | "proposedClasses">,
  { stockPackId, since }: Pick<Travelling, "stockPackId" | "since">,
): TransportRow["proposedClasses"][number] | null {
  const [newest] = proposedClasses;
  if (newest === undefined || newest.stockPackId !== stockPackId) return null;
  if (since !== null && newest.proposedAt < since) return null;
  return newest.afterDeclaration === (declarations[0]?.sequence ?? 0) ? newest : null;
}

function transportView(
  { row, leg, travelling, last, isStopped, rules, usedRules }: FoundTransport,
  { tracks: { handledAs, heldBecause: frozenBecause }, evidenceStands }: AsHouse,
  now: Date,
): TransportView {
  const { pack, proposal } = travelling;
  const { model, code, testSummaryReference } = pack.revision;
  const [leave] = last?.leaves ?? [];
  const transportClass = last === null ? null : readTransportClass(last.transportClass);
  const { makerCountry, emergencyPhone } = readEnvironment();
  const way = wayOf(leg, { dealer: row.dealer.country, maker: makerCountry });
  const sending = sendingState(
    {
      leg,
      status: readReturnStatus(row.status),
      transportClass,
      rulesInForce: last?.ruleFingerprint === rules.fingerprint,
      evidenceStands,
      authorisedAt: leave?.givenAt ?? null,
      expiresAt: leave?.expiresAt ?? null,
      isCalledIn: leg === "to-maker" && row.oldPackOrders[0]?.order === "send-in",
      frozenBecause,
      isSetApart: isSetApart(handledAs),
      isStopped,
    },
    now,
  );
  return {
    reference: row.reference,
    leg,
    isFromStock: travelling.stockPackId !== null,
    unitIsMissing: travelling.unitIsMissing,
    consignee: last?.consignee ?? null,
    serial: pack.serial,
    serialShown: shownSerial(pack.serial),
    modelName: model.name,
    revisionCode: code,
    testSummaryReference,
    massKg: model.massKg,
    energyWh: Math.round(ratedWh(model)),
    dealer: row.dealer,
    proposal,
    declaration: last === null ? null : declarationView(last),
    declarations: row.declarations[0]?.sequence ?? 0,
    waiting: proposedView(waitingProposal(row, travelling)),
    sending,
    orders:
      transportClass === null || usedRules === null
        ? null
        : packingOrders(usedRules, {
            transportClass,
            massKg: model.massKg,
            ...way,
            inEquipment: last?.inEquipment ?? false,
          }),
    rules,
    frozenBecause,
    emergencyPhone,
  };
}

function declarationView(row: TransportRow["declarations"][number]): DeclarationView {
  const { id, inEquipment, reason, ruleVersion, declaredByName, declaredAt, answers, prints } = row;
  return {
    id,
    transportClass: readTransportClass(row.transportClass),
    proposedClass: readTransportClass(row.proposedClass),
    criteria: readAnswers(row.criteria),
    inEquipment,
    reason,
    ruleVersion,
    declaredByName,
    declaredAt,
    answersName: answers?.proposedByName ?? null,
    prints,
  };
}

function proposedView(row: ReturnType<typeof waitingProposal>): ProposedClassView | null {
  if (row === null) return null;
  return { ...row, transportClass: readTransportClass(row.transportClass), criteria: readAnswers(row.criteria) };
}

function readAnswers(json: unknown): Record<string, string> {
  if (typeof json !== "object" || json === null) return {};
  return Object.fromEntries(Object.entries(json).map(([criterion, answer]) => [criterion, String(answer)]));
}
