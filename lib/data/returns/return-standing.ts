import "server-only";
import { readDecidedRemedy } from "@/lib/returns/decision.schema";
import { foldMoves } from "@/lib/returns/fold-moves";
import type { KnownFacts } from "@/lib/returns/return-facts";
import { settingsOn } from "@/lib/returns/return-settings.schema";
import type { ReturnStanding } from "@/lib/returns/return-standing";
import { readReturnStatus } from "@/lib/returns/return-status";
import { whySecondPerson } from "@/lib/returns/second-person";
import { toldPeriods } from "@/lib/returns/told-periods";
import { readCoverOutcome } from "@/lib/warranty/cover";
import { lastChoice } from "@/lib/warranty/legal-prompts";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import { readSuggestionThatStands } from "../readings/suggestion-that-stands";
import { readKnownFacts } from "./known-facts";
import { readApprovedSettings } from "./return-settings";
import { type PackTracks, readPackTracks } from "./track-rows";

const standingSelect = {
  id: true,
  reference: true,
  packId: true,
  dealerId: true,
  status: true,
  version: true,
  dueAt: true,
  pausedMinutesLeft: true,
  takenByUserId: true,
  settledBefore: true,
  turn: true,
  lastMoveHash: true,
  coverPolicyVersion: true,
  coverOutcome: true,
  dealer: { select: { timeZone: true } },
  pack: {
    select: {
      serial: true,
      revision: { select: { code: true, model: { select: { code: true } } } },
      lots: { where: { removedOn: null }, select: { lot: { select: { code: true } } } },
    },
  },
  decision: { select: { remedy: true, replacementRevision: { select: { code: true } } } },
  legalNotices: { select: { kind: true, choice: true }, orderBy: { shownAt: "desc" } },
  readingFiles: { select: { id: true, suggestion: { select: { remedy: true } } } },
  readingFile: {
    select: {
      id: true,
      findings: { select: { fault: true, confidence: true } },
      suggestion: { select: { id: true } },
    },
  },
  moves: {
    select: {
      move: true,
      from: true,
      to: true,
      actorUserId: true,
      actorName: true,
      actorRole: true,
      reason: true,
      at: true,
      facts: true,
    },
    orderBy: { sequence: "asc" },
  },
} as const satisfies Prisma.ReturnSelect;

export type StandingRow = Prisma.ReturnGetPayload<{ select: typeof standingSelect }>;

export interface LoadedStanding {
  readonly row: StandingRow;
  readonly standing: ReturnStanding;
  readonly tracks: PackTracks;
  readonly settingsVersion: string;
}

/**
 * A return with everything its next move is judged by; null where there is none or the person may not see it.
 * `told` is what the person may not read but the move has to know.
 */
export async function loadStanding(
  tx: Transaction,
  reference: string,
  now: Date,
  told: Partial<KnownFacts> = {},
): Promise<LoadedStanding | null> {
  const row = await tx.return.findUnique({ where: { reference }, select: standingSelect });
  if (row === null) return null;
  const tracks = await readPackTracks(tx, row.packId);
  const approved = await readApprovedSettings(tx);
  const settingsAt = (at: Date | null) => settingsOn(approved, civilDateAt(at ?? now, row.dealer.timeZone));
  const settings = settingsAt(now);
  const past = foldMoves(row.moves);
  const { suggestion } = await readSuggestionThatStands(tx, row.id);
  const decidedRemedy = readDecidedRemedy(row.decision?.remedy ?? null);
  const read = await readKnownFacts(tx, {
    returnId: row.id,
    reference: row.reference,
    isReadyToHandBack: row.status === "ready-to-hand-back",
    now,
    hasReadings: row.readingFile !== null,
    decidedRemedy,
    outgoingRemedy: row.status === "remote-help" ? "remote-fix" : decidedRemedy,
    isHandedBack: past.handedBackAt !== null,
    // Help from a distance ends without a proposal: what it would end with is a repair.
    proposedRemedy: past.proposal?.decision.remedy ?? (row.status === "remote-help" ? "remote-fix" : null),
    revisionCode: row.pack.revision.code,
    modelCode: row.pack.revision.model.code,
    moves: row.moves,
  });
  const weighed = {
    suggested: suggestion?.remedy ?? null,
    suggestedBefore: row.readingFiles.flatMap(({ id, suggestion }) =>
      id === row.readingFile?.id || suggestion === null ? [] : [suggestion.remedy],
    ),
    cover: readCoverOutcome(row.coverOutcome),
    choice: lastChoice(row.legalNotices),
    given: { moneyIn: read.refundPaidIn, unitSerial: read.unitGiven },
  };
  return {
    row,
    tracks,
    settingsVersion: settings.version,
    standing: {
      status: readReturnStatus(row.status),
      version: row.version,
      dealerId: row.dealerId,
      timeZone: row.dealer.timeZone,
      reference: row.reference,
      serial: row.pack.serial,
      safety: tracks.handledAs,
      isOnHold: tracks.hold.state === "held",
      custody: tracks.custody.state,
      decidedRemedy,
      past,
      known: { ...read, ...told },
      weighed,
      secondPerson: past.proposal === null ? [] : whySecondPerson(past.proposal.decision, weighed, settings),
      settings,
      told: toldPeriods(past, settingsAt),
      now,
    },
  };
}
