import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import { readReturnStatus } from "@/lib/returns/return-status";
import { authorisationEnd, type SendingState, sendingState } from "@/lib/transport/authorisation";
import { type ClassDeclaration, declareClass } from "@/lib/transport/declare-class";
import { type PackingOrders, packingOrders } from "@/lib/transport/packing-orders";
import { type ClassProposal, proposeClass } from "@/lib/transport/propose-class";
import type { TransportRules } from "@/lib/transport/rule-set.schema";
import { readTransportClass, type TransportClass } from "@/lib/transport/transport-class";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { asActor, type Transaction } from "./database";
import { readFreeze, readFreezeAsSystem } from "./pack-freeze";
import { shownSerial } from "./pack-words";
import { packEvidence, type TransportRow, transportSelect } from "./transport-evidence";
import { type RulesInForce, rulesInForce, rulesOfDeclaration } from "./transport-rules";
import { breaksUnique } from "./unique-violation";

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
  readonly prints: readonly { readonly kind: string; readonly printedAt: Date; readonly printedByName: string }[];
}

/** All that stands about the transport of one returned pack. */
export interface TransportView {
  readonly reference: string;
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
  readonly sending: SendingState;
  /** By the rules the class was declared under, whatever is in force since. Null while there is no class to pack by. */
  readonly orders: PackingOrders | null;
  readonly rules: RulesInForce;
  readonly frozenBecause: readonly string[];
}

/** The transport side of one return; null where there is none or the person may not see it. */
export async function readTransport(
  actor: Actor,
  typedReference: string,
  now = new Date(),
): Promise<TransportView | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return null;
  if (!may(actor, "read-build-record") && !may(actor, "read-own-returns")) return null;
  const found = await asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({ where: { reference: reading.reference }, select: transportSelect });
    if (row === null) return null;
    const [last] = row.declarations;
    return {
      row,
      rules: await rulesInForce(tx, civilDateAt(now, row.dealer.timeZone)),
      usedRules: last === undefined ? null : await rulesOfDeclaration(tx, last),
    };
  });
  if (found === null) return null;
  return transportView(
    found.row,
    found.rules,
    found.usedRules,
    (await readFreezeAsSystem(found.row.packId)).because,
    now,
  );
}

function transportView(
  row: TransportRow,
  rules: RulesInForce,
  usedRules: TransportRules | null,
  frozenBecause: readonly string[],
  now: Date,
): TransportView {
  const { model, code, testSummaryReference } = row.pack.revision;
  const [last] = row.declarations;
  const [leave] = last?.leaves ?? [];
  const transportClass = last === undefined ? null : readTransportClass(last.transportClass);
  const sending = sendingState(
    {
      status: readReturnStatus(row.status),
      transportClass,
      rulesInForce: last?.ruleFingerprint === rules.fingerprint,
      authorisedAt: leave?.givenAt ?? null,
      expiresAt: leave?.expiresAt ?? null,
      frozenBecause,
    },
    now,
  );
  return {
    reference: row.reference,
    serial: row.pack.serial,
    serialShown: shownSerial(row.pack.serial),
    modelName: model.name,
    revisionCode: code,
    testSummaryReference,
    massKg: model.massKg,
    energyWh: Math.round(model.ratedCapacityAh * model.ratedVoltageV),
    dealer: row.dealer,
    proposal: proposeClass(packEvidence(row)),
    declaration: last === undefined ? null : declarationView(last),
    declarations: last?.sequence ?? 0,
    sending,
    orders:
      transportClass === null || usedRules === null
        ? null
        : packingOrders(usedRules, {
            transportClass,
            massKg: model.massKg,
            fromCountry: row.dealer.country,
            inEquipment: last?.inEquipment ?? false,
          }),
    rules,
    frozenBecause,
  };
}

function declarationView(row: TransportRow["declarations"][number]): DeclarationView {
  const { id, inEquipment, reason, ruleVersion, declaredByName, declaredAt, prints } = row;
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
    prints,
  };
}

function readAnswers(json: unknown): Record<string, string> {
  if (typeof json !== "object" || json === null) return {};
  return Object.fromEntries(Object.entries(json).map(([criterion, answer]) => [criterion, String(answer)]));
}

export type TransportAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: string; readonly sentence: string };

const notFound: TransportAnswer = { ok: false, reason: "not-found", sentence: "There is no such return for you." };

/**
 * Declares the transport class of a returned pack in a named person's name, beside what was proposed at that moment. Any
 * class but "do not ship" carries leave to send, for the days of the rule set.
 */
export async function declareTransportClass(
  actor: Actor,
  typedReference: string,
  declared: ClassDeclaration,
  now = new Date(),
): Promise<TransportAnswer> {
  return inReturn(actor, typedReference, async (tx, row) => {
    const rules = await rulesInForce(tx, civilDateAt(now, row.dealer.timeZone));
    const proposal = proposeClass(packEvidence(row));
    const declarations = row.declarations[0]?.sequence ?? 0;
    const frozen = await readFreeze(tx, row.packId);
    const outcome = declareClass(
      actor,
      { proposal, rulesConfirmed: rules.confirmation !== null, declarations, frozenBecause: frozen.because },
      declared,
    );
    if (outcome.kind === "refused") return { ok: false, reason: outcome.why, sentence: outcome.sentence };
    const { id } = await tx.classDeclaration.create({
      data: {
        returnId: row.id,
        sequence: declarations + 1,
        transportClass: outcome.transportClass,
        proposedClass: proposal.transportClass,
        proposedSafety: proposal.safetyClass,
        proposedReasons: [...proposal.reasons],
        notDiagnosed: [...proposal.notDiagnosed],
        criteria: declared.criteria,
        inEquipment: declared.inEquipment,
        reason: declared.reason,
        ruleVersion: rules.version,
        ruleFingerprint: rules.fingerprint,
        declaredByUserId: actor.userId,
        declaredByName: actor.name,
        declaredByRole: actor.role,
        declaredAt: now,
      },
      select: { id: true },
    });
    if (outcome.transportClass !== "do-not-ship") await giveLeave(tx, actor, id, rules.rules, now);
    return { ok: true };
  });
}

/** Gives leave to send anew where it ran out; the class and the rules it rests on must still stand. */
export async function reviveSendingLeave(
  actor: Actor,
  typedReference: string,
  now = new Date(),
): Promise<TransportAnswer> {
  if (!may(actor, "approve-return") && !may(actor, "set-transport-class")) {
    return { ok: false, reason: "not-allowed", sentence: "The service desk gives leave to send anew." };
  }
  return inReturn(actor, typedReference, async (tx, row) => {
    const [last] = row.declarations;
    const { rules, fingerprint } = await rulesInForce(tx, civilDateAt(now, row.dealer.timeZone));
    const frozen = await readFreeze(tx, row.packId);
    if (frozen.noShip) return { ok: false, reason: "frozen", sentence: frozen.because.join(" ") };
    if (last === undefined || last.transportClass === "do-not-ship" || last.ruleFingerprint !== fingerprint) {
      return {
        ok: false,
        reason: "no-class",
        sentence: "There is no class under the rules in force that this pack could be sent by. Declare one first.",
      };
    }
    await giveLeave(tx, actor, last.id, rules, now);
    return { ok: true };
  });
}

function giveLeave(tx: Transaction, actor: Actor, declarationId: string, rules: TransportRules, now: Date) {
  return tx.sendingLeave.create({
    data: {
      declarationId,
      givenAt: now,
      expiresAt: authorisationEnd(now, rules.authorisationDays),
      givenByUserId: actor.userId,
      givenByName: actor.name,
    },
  });
}

async function inReturn(
  actor: Actor,
  typedReference: string,
  run: (tx: Transaction, row: TransportRow) => Promise<TransportAnswer>,
): Promise<TransportAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-build-record")) return notFound;
  try {
    return await asActor(actor, async (tx) => {
      const row = await tx.return.findUnique({ where: { reference: reading.reference }, select: transportSelect });
      return row === null ? notFound : run(tx, row);
    });
  } catch (error) {
    if (!breaksUnique(error, "sequence")) throw error;
    return {
      ok: false,
      reason: "someone-changed-this",
      sentence: "Somebody declared a class while you had this open. Look at it as it is now, then declare again.",
    };
  }
}
