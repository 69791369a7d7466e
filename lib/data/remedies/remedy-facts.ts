import "server-only";
import { type DecidableRemedy, readDecidedRemedy } from "@/lib/returns/decision.schema";
import { travelsOut } from "@/lib/returns/place-guards";
import type { RemedyFacts } from "@/lib/returns/remedy-track";
import { decisionStands, readReturnStatus } from "@/lib/returns/return-status";
import { type ConsumerChoice, lastChoice } from "@/lib/warranty/legal-prompts";
import type { Transaction } from "../database";
import { readRefundOwed } from "../money/refund-payments";
import { readPackTracks } from "../returns/track-rows";
import { type Leaving, readLeaving } from "../transport/outgoing-sending";
import { readLegalPrompts } from "../warranty/legal-notices";
import { readKeptUnit, whyKeptUnitIsStopped } from "./replacement-units";

export interface RemedyFactsRead {
  readonly facts: RemedyFacts;
  /** The class and paper that what is carried out leaves under; null where nothing is. */
  readonly leaving: Leaving | null;
  /** What is kept with a step and shown beside it. */
  readonly shown: {
    readonly decidedRemedy: DecidableRemedy | null;
    /** What the customer chose last; null where nobody asked or nothing was answered. */
    readonly choice: ConsumerChoice | null;
    readonly serial: string | null;
    /** Why the pack kept must not go out, for the house alone: a dealer's transaction sees no known issue. */
    readonly unitStop: string | null;
  };
}

/** What the promise to the customer of a return rests on. */
export async function readRemedyFacts(tx: Transaction, returnId: string, now: Date): Promise<RemedyFactsRead> {
  const row = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: {
      id: true,
      reference: true,
      packId: true,
      status: true,
      decision: { select: { remedy: true, decidedAt: true, refundMinor: true, refundCurrency: true } },
      legalNotices: { select: { kind: true, choice: true }, orderBy: { shownAt: "desc" } },
    },
  });
  const stands = decisionStands(readReturnStatus(row.status));
  const decidedRemedy = stands ? readDecidedRemedy(row.decision?.remedy ?? null) : null;
  const { prompts, missing } = await readLegalPrompts(tx, returnId, { remedy: decidedRemedy ?? "" });
  const kept = await readKeptUnit(tx, returnId);
  const unitStop = kept === null ? null : await whyKeptUnitIsStopped(tx, returnId);
  const choice = lastChoice(row.legalNotices);
  const { custody } = await readPackTracks(tx, row.packId);
  const leaving = travelsOut(decidedRemedy, custody.state)
    ? await readLeaving(tx, row.reference, "to-dealer", now)
    : null;
  const asksForChoice = prompts.some(({ kind }) => kind === "choice-and-extension");
  return {
    facts: {
      decidedRemedy,
      noticesGiven: missing.length === 0,
      choiceIsMissing: asksForChoice && choice === null,
      hasUnit: kept !== null,
      unitIsStopped: unitStop !== null,
      outgoing: leaving?.why ?? null,
      isReleased: await isReleased(tx, returnId),
      refundOwed: decidedRemedy === "refund" ? await readRefundOwed(tx, returnId, row.decision) : null,
      refundIsPaid: row.decision !== null && (await wasRefunded(tx, returnId, row.decision.decidedAt)),
    },
    leaving,
    shown: { decidedRemedy, choice, serial: kept?.serial ?? null, unitStop },
  };
}

/** Whether a refund was paid since a decision: it is paid once, and of what a later decision gives the rest alone. */
async function wasRefunded(tx: Transaction, returnId: string, since: Date): Promise<boolean> {
  const paid = { track: { returnId, track: "remedy" }, to: "refund-paid", at: { gte: since } };
  return (await tx.trackMove.count({ where: paid })) > 0;
}

/** Whether the case left the workshop by a release that still stands. */
async function isReleased(tx: Transaction, returnId: string): Promise<boolean> {
  const { status } = await tx.return.findUniqueOrThrow({ where: { id: returnId }, select: { status: true } });
  return ["ready-to-hand-back", "handed-back", "closed"].includes(status);
}
