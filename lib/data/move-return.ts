import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { Decision } from "@/lib/returns/decision.schema";
import { type MoveRefusal, type MoveRequest, moveReturn } from "@/lib/returns/return-moves";
import { readReturnReference } from "@/lib/returns/return-reference";
import { readTurnStatus } from "@/lib/returns/return-turn";
import { asActor, type Transaction } from "./database";
import { appendMove } from "./history";
import { checkReturnedPack } from "./revision-checks";
import { breaksUnique } from "./unique-violation";

export type MoveAnswer =
  | { readonly ok: true; readonly version: number }
  | {
      readonly ok: false;
      readonly reason: MoveRefusal | "not-found" | "revision-may-not-replace";
      readonly sentence: string;
    };

const notFound: MoveAnswer = { ok: false, reason: "not-found", sentence: "There is no such return for you." };

/** Takes a return from the queue: from now on it is looked at by this person. */
export function takeReturn(actor: Actor, reference: string, seenVersion: number): Promise<MoveAnswer> {
  return carryOut(
    actor,
    reference,
    { name: "take", reason: "Taken from the queue.", seenVersion },
    async (tx, { id }) => {
      await tx.return.update({ where: { id }, data: { takenByName: actor.name } });
      return null;
    },
  );
}

/** Takes a complaint back before it is decided. */
export function withdrawReturn(
  actor: Actor,
  reference: string,
  seenVersion: number,
  reason: string,
): Promise<MoveAnswer> {
  return carryOut(actor, reference, { name: "withdraw", reason, seenVersion }, async () => null);
}

/**
 * Records what the bench decided, beside the suggestion it saw and the version it saw. The decision is a row of its own
 * that is never changed; whether the pack itself failed follows from the confirmed fault.
 */
export function decideReturn(actor: Actor, reference: string, decision: Decision): Promise<MoveAnswer> {
  const { remedy, reason, seenVersion } = decision;
  return carryOut(actor, reference, { name: "decide", remedy, reason, seenVersion }, async (tx, row, now) => {
    const replacement = await readReplacement(tx, row, decision);
    if (replacement.kind === "refused") return replacement.answer;
    await tx.decision.create({
      data: {
        returnId: row.id,
        remedy,
        confirmedFault: decision.confirmedFault,
        confirmedFailure: countsAsFailure(decision.confirmedFault),
        reason,
        replacementRevisionId: replacement.revisionId,
        suggestionId: row.readingFile?.suggestion?.id ?? null,
        seenVersion,
        decidedByUserId: actor.userId,
        decidedByName: actor.name,
        decidedAt: now,
      },
    });
    return null;
  });
}

/** What was done to a pack from outside, or nothing found, is no failure of the pack; "unknown" is not a confirmed one. */
export function countsAsFailure(confirmedFault: Decision["confirmedFault"]): boolean {
  return !["no-fault-found", "outside-cause", "unknown"].includes(confirmedFault);
}

const moveSelect = {
  id: true,
  status: true,
  version: true,
  dealerId: true,
  safetyFlags: { select: { id: true } },
  pack: { select: { revision: { select: { code: true } }, lots: { select: { lot: { select: { code: true } } } } } },
  readingFile: {
    select: {
      findings: { select: { fault: true, confidence: true } },
      suggestion: { select: { id: true, ruleVersion: true } },
    },
  },
} as const;

type MoveRow = NonNullable<Awaited<ReturnType<typeof readRow>>>;

function readRow(tx: Transaction, reference: string) {
  return tx.return.findUnique({ where: { reference }, select: moveSelect });
}

/** Thrown inside the transaction so that nothing of a refused move stays; caught below and given as an answer. */
class Refused extends Error {
  readonly answer: MoveAnswer;
  constructor(answer: MoveAnswer) {
    super("the move was refused");
    this.answer = answer;
  }
}

/** Load, decide, save: one transaction, with the version in the WHERE, and a row of history. */
async function carryOut(
  actor: Actor,
  typedReference: string,
  request: MoveRequest,
  save: (tx: Transaction, row: MoveRow, now: Date) => Promise<MoveAnswer | null>,
): Promise<MoveAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return notFound;
  const now = new Date();
  try {
    return await asActor(actor, async (tx) => {
      const row = await readRow(tx, reading.reference);
      if (row === null) return notFound;
      const standing = {
        status: readTurnStatus(row.status),
        version: row.version,
        dealerId: row.dealerId,
        isSafetyOpen: row.safetyFlags.length > 0,
      };
      const outcome = moveReturn(actor, standing, request);
      if (outcome.kind === "refused") return { ok: false, reason: outcome.why, sentence: outcome.sentence };
      const { count } = await tx.return.updateMany({
        where: { id: row.id, version: row.version, status: row.status },
        data: { status: outcome.to, version: outcome.version },
      });
      // Somebody else's transaction came between the read and the write.
      if (count !== 1) throw new Refused(changedMeanwhile);
      const refusal = await save(tx, row, now);
      if (refusal !== null) throw new Refused(refusal);
      await appendMove(tx, actor, {
        returnId: row.id,
        from: outcome.from,
        to: outcome.to,
        reason: request.reason,
        dataVersion: outcome.version,
        ruleVersion: row.readingFile?.suggestion?.ruleVersion ?? null,
        at: now,
      });
      return { ok: true, version: outcome.version };
    });
  } catch (error) {
    if (error instanceof Refused) return error.answer;
    if (breaksUnique(error, "returnId")) return changedMeanwhile;
    throw error;
  }
}

const changedMeanwhile: MoveAnswer = {
  ok: false,
  reason: "someone-changed-this",
  sentence: "Somebody changed this return while you had it open. Look at it as it is now, then decide again.",
};

type ReadReplacement =
  | { readonly kind: "read"; readonly revisionId: string | null }
  | { readonly kind: "refused"; readonly answer: MoveAnswer };

async function readReplacement(tx: Transaction, row: MoveRow, decision: Decision): Promise<ReadReplacement> {
  const code = decision.replacementRevisionCode;
  if (code === undefined) return { kind: "read", revisionId: null };
  const { replacement } = await checkReturnedPack(tx, {
    revisionCode: row.pack.revision.code,
    lotCodes: row.pack.lots.map(({ lot }) => lot.code),
    findings: row.readingFile?.findings ?? [],
  });
  const may = replacement.kind === "may-replace" && replacement.options.some((option) => option.revisionCode === code);
  const revision = may ? await tx.revision.findUnique({ where: { code }, select: { id: true } }) : null;
  if (revision !== null) return { kind: "read", revisionId: revision.id };
  const sentence = `${code} may not replace this pack today. Choose one of the revisions offered.`;
  return { kind: "refused", answer: { ok: false, reason: "revision-may-not-replace", sentence } };
}
