import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readReturnReference } from "@/lib/returns/return-reference";
import { authorisationEnd } from "@/lib/transport/authorisation";
import { type ClassDeclaration, type DeclarationStanding, declareClass } from "@/lib/transport/declare-class";
import type { Leg } from "@/lib/transport/leg";
import type { TransportRules } from "@/lib/transport/rule-set.schema";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { asActor, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import type { MoverName } from "../returns/history";
import { loadToBeSent, passSendingTurn } from "../returns/sending-turn";
import { followUnitAtDealersAsSystem } from "../returns/unit-turn";
import { readFreeze } from "../safety/pack-freeze";
import { breaksUnique } from "../unique-violation";
import { lastFor, waitingProposal } from "./transport";
import { type TransportRow, transportSelect } from "./transport-evidence";
import { rulesInForce } from "./transport-rules";
import { readTravelling } from "./travelling-pack";

export type TransportAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: string; readonly sentence: string };

const notFound: TransportAnswer = { ok: false, reason: "not-found", sentence: "There is no such return for you." };

/**
 * Declares the transport class of the pack on one way of a return in a named person's name, beside what was proposed at that
 * moment. Any class but "do not ship" carries leave to send, for the days of the rule set.
 */
export async function declareTransportClass(
  actor: Actor,
  typedReference: string,
  declared: ClassDeclaration,
  now = new Date(),
): Promise<TransportAnswer> {
  const { leg } = declared;
  return inReturn(actor, typedReference, leg, now, async (tx, row) => {
    const { rules, travelling, standing, waiting } = await readDeclaring(tx, row, leg, now);
    const { stockPackId, proposal } = travelling;
    const outcome = declareClass(actor, standing, declared);
    if (outcome.kind === "refused") return { ok: false, reason: outcome.why, sentence: outcome.sentence };
    const { id } = await tx.classDeclaration.create({
      data: {
        returnId: row.id,
        leg,
        stockPackId,
        consignee: leg === "to-supplier" ? declared.consignee.trim() : null,
        sequence: standing.declarations + 1,
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
        answersId: waiting?.id ?? null,
        declaredByUserId: actor.userId,
        declaredByName: actor.name,
        declaredByRole: actor.role,
        declaredAt: now,
      },
      select: { id: true },
    });
    const staysHere = outcome.transportClass === "do-not-ship";
    const leave = staysHere ? null : await giveLeave(tx, actor, id, rules.rules, now);
    await tellWhoSends(tx, leg, row, leave, now);
    return { ok: true };
  });
}

/** What a declaration, or a proposal of one, is judged by, as it stands now. */
export async function readDeclaring(tx: Transaction, row: TransportRow, leg: Leg, now: Date) {
  const rules = await rulesInForce(tx, civilDateAt(now, row.dealer.timeZone));
  const travelling = await readTravelling(tx, row, leg);
  const waiting = waitingProposal(row, travelling);
  const standing: DeclarationStanding = {
    proposal: travelling.proposal,
    rulesConfirmed: rules.confirmation !== null,
    declarations: row.declarations[0]?.sequence ?? 0,
    unitIsMissing: travelling.unitIsMissing,
    frozenBecause: (await readFreeze(tx, travelling.packId)).because,
    proposedByUserId: waiting?.proposedByUserId ?? null,
  };
  return { rules, travelling, standing, waiting };
}

/** Gives leave to send anew where it ran out; the class and the rules it rests on must still stand. */
export async function reviveSendingLeave(
  actor: Actor,
  typedReference: string,
  now = new Date(),
  leg: Leg = "to-maker",
): Promise<TransportAnswer> {
  if (!may(actor, "approve-return") && !may(actor, "set-transport-class")) {
    return { ok: false, reason: "not-allowed", sentence: "The service desk gives leave to send anew." };
  }
  return inReturn(actor, typedReference, leg, now, async (tx, row) => {
    const travelling = await readTravelling(tx, row, leg);
    const last = lastFor(row, travelling);
    const { rules, fingerprint } = await rulesInForce(tx, civilDateAt(now, row.dealer.timeZone));
    const frozen = await readFreeze(tx, travelling.packId);
    if (frozen.noShip) return { ok: false, reason: "frozen", sentence: frozen.because.join(" ") };
    if (last === null || last.transportClass === "do-not-ship" || last.ruleFingerprint !== fingerprint) {
      return {
        ok: false,
        reason: "no-class",
        sentence: "There is no class under the rules in force that this pack could be sent by. Declare one first.",
      };
    }
    const leave = await giveLeave(tx, actor, last.id, rules, now);
    await tellWhoSends(tx, leg, row, leave, now);
    return { ok: true };
  });
}

/**
 * Whoever waited for a class, or for leave to send the returned pack, has the turn at once. The dealer at whose counter the
 * replacement lies is told that it may be sent: nothing else says so to who does not look at that return.
 */
async function tellWhoSends(
  tx: Transaction,
  leg: Leg,
  { id: returnId, reference, dealerId, dealer }: TransportRow,
  leave: GivenLeave | null,
  now: Date,
): Promise<void> {
  const waited = leg === "to-maker" ? await loadToBeSent(tx, reference, now) : null;
  if (waited !== null) await passSendingTurn(tx, waited, now);
  if (leg !== "unit-to-maker" || leave === null) return;
  const until = civilDateAt(leave.expiresAt, dealer.timeZone);
  const occasion = `replacement back ${leave.id}`;
  await queueNotice(tx, { kind: "approved", reference, returnId, occasion, until, to: { dealerId } });
}

/**
 * Gives leave to send anew with the approval of a return, under the class and rules as they stand: its days run from the
 * approval, however long before it the class was declared.
 */
export async function giveLeaveWithApproval(
  tx: Transaction,
  actor: MoverName,
  reference: string,
  now: Date,
): Promise<void> {
  const row = await tx.return.findUniqueOrThrow({ where: { reference }, select: transportSelect("to-maker") });
  const last = lastFor(row, await readTravelling(tx, row, "to-maker"));
  const { rules, fingerprint } = await rulesInForce(tx, civilDateAt(now, row.dealer.timeZone));
  if (last === null || last.transportClass === "do-not-ship" || last.ruleFingerprint !== fingerprint) return;
  await giveLeave(tx, actor, last.id, rules, now);
}

interface GivenLeave {
  readonly id: string;
  readonly expiresAt: Date;
}

function giveLeave(
  tx: Transaction,
  actor: MoverName,
  declarationId: string,
  rules: TransportRules,
  now: Date,
): Promise<GivenLeave> {
  return tx.sendingLeave.create({
    data: {
      declarationId,
      givenAt: now,
      expiresAt: authorisationEnd(now, rules.authorisationDays),
      givenByUserId: actor.userId,
      givenByName: actor.name,
    },
    select: { id: true, expiresAt: true },
  });
}

/** Opens the transaction of a step of transport in one return that the house may see. */
export async function inReturn(
  actor: Actor,
  typedReference: string,
  leg: Leg,
  now: Date,
  run: (tx: Transaction, row: TransportRow) => Promise<TransportAnswer>,
): Promise<TransportAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-build-record")) return notFound;
  try {
    const answer = await asActor(actor, async (tx) => {
      const row = await tx.return.findUnique({ where: { reference: reading.reference }, select: transportSelect(leg) });
      return row === null ? notFound : run(tx, row);
    });
    if (answer.ok && leg === "unit-to-maker") await followUnitAtDealersAsSystem(reading.reference, now);
    return answer;
  } catch (error) {
    if (!breaksUnique(error, "ClassDeclaration_returnId_leg_sequence_key")) throw error;
    return {
      ok: false,
      reason: "someone-changed-this",
      sentence: "Somebody declared a class while you had this open. Look at it as it is now, then declare again.",
    };
  }
}
