import "server-only";
import type { Actor } from "@/lib/access/actor";
import { openToReadings } from "@/lib/returns/case-stages";
import { readDecidedRemedy } from "@/lib/returns/decision.schema";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isOpenStatus, readReturnStatus, undecidedStatuses } from "@/lib/returns/return-status";
import { readTurn, turnForDealer, YOUR_TURN } from "@/lib/returns/return-turn";
import { readCoverOutcome } from "@/lib/warranty/cover";
import type { LegalDuty } from "@/lib/warranty/legal-duty";
import { otherClocks } from "@/lib/warranty/three-clocks";
import type { Prisma } from "@/prisma/generated/client";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { type RevisionChange, readChanges } from "../packs/pack-facts";
import { revisionInWords, shownSerial } from "../packs/pack-words";
import {
  type EarlierReadings,
  earlierReadings,
  earlierReadingsSelect,
  type ReadingFileCard,
  readingFileCard,
  readingFileSelect,
} from "../readings/reading-file-card";
import type { CoverView } from "../warranty/cover";
import { readLegalDuties } from "../warranty/legal-duties-held";
import { type NextSteps, readNextSteps } from "./next-steps";

export interface DealerReturnRow {
  readonly reference: string;
  readonly serialShown: string;
  readonly modelName: string;
  readonly lodgedAt: Date;
  readonly status: string;
  readonly turn: string;
  readonly next: string;
  readonly danger: boolean;
}

/** Longer lists belong to a search, which this page is not. */
const LIST_LIMIT = 100;

/** The dealer's own returns: open ones first, danger before the rest, newest first. */
export async function listDealerReturns(actor: Actor): Promise<DealerReturnRow[]> {
  const { dealerId } = actor;
  if (dealerId === null) return [];
  const rows = await asActor(actor, (tx) =>
    tx.return.findMany({
      where: { dealerId },
      select: {
        reference: true,
        lodgedAt: true,
        status: true,
        turn: true,
        dangerSigns: true,
        pack: { select: { serial: true, revision: { select: { model: { select: { name: true } } } } } },
        decision: { select: { remedy: true } },
      },
      orderBy: { lodgedAt: "desc" },
      take: LIST_LIMIT,
    }),
  );
  return rows
    .map(({ reference, lodgedAt, status, turn, dangerSigns, pack, decision }) => ({
      reference,
      serialShown: shownSerial(pack.serial),
      modelName: pack.revision.model.name,
      lodgedAt,
      status,
      ...turnForDealer({
        status: readReturnStatus(status),
        danger: dangerSigns.length > 0,
        remedy: readDecidedRemedy(decision?.remedy ?? null),
        turn: readTurn(turn),
      }),
      danger: dangerSigns.length > 0,
    }))
    .sort((a, b) => urgency(b) - urgency(a));
}

/** Danger that nobody has judged first, then what waits for the dealer, then what is open; the newest first within each. */
function urgency({ status, danger, turn }: DealerReturnRow): number {
  if (danger && undecidedStatuses.some((undecided) => undecided === status)) return 3;
  if (turn === YOUR_TURN) return 2;
  return isOpenStatus(status) ? 1 : 0;
}

export interface DecisionView {
  readonly remedy: string;
  readonly confirmedFault: string;
  readonly confirmedFailure: boolean;
  readonly reason: string;
  readonly replacementRevisionCode: string | null;
  readonly seenVersion: number;
  readonly decidedAt: Date;
  readonly proposedByName: string | null;
  readonly decidedByName: string;
  readonly secondByName: string | null;
}

export interface MoveView {
  readonly at: Date;
  readonly actorName: string;
  readonly from: string | null;
  readonly to: string;
  readonly reason: string;
  /** Version of the return that the move made. */
  readonly dataVersion: number;
}

/** What the dealer and the bench both see of a return. */
export interface ReturnView {
  readonly reference: string;
  readonly status: string;
  readonly version: number;
  readonly settledBefore: boolean;
  readonly lodgedAt: Date;
  readonly toldOn: string;
  readonly noticedOn: string;
  readonly concern: string;
  readonly symptom: string;
  readonly conditions: readonly string[];
  readonly dangerSigns: readonly string[];
  readonly noFileReason: string | null;
  readonly cover: CoverView;
  readonly pack: {
    readonly serial: string;
    readonly serialShown: string;
    readonly modelName: string;
    readonly revisionCode: string;
    readonly revisionInWords: string;
    readonly changes: readonly RevisionChange[];
    readonly builtOn: string;
  };
  readonly readings: ReadingFileCard | null;
  /** Added before those that count, the newest first. */
  readonly earlierReadings: readonly EarlierReadings[];
  /** Whether this return is still open to readings of its pack. */
  readonly takesReadings: boolean;
  readonly decision: DecisionView | null;
  /** The return this one goes on in, where it was a duplicate; null else. */
  readonly joinedInto: string | null;
  /** Returns that go on in this one. */
  readonly joinedFrom: readonly string[];
  readonly moves: readonly MoveView[];
}

export interface DealerReturnPage extends ReturnView {
  readonly turn: string;
  readonly next: string;
  readonly steps: NextSteps;
}

export const returnViewSelect = {
  reference: true,
  status: true,
  version: true,
  settledBefore: true,
  lodgedAt: true,
  toldOn: true,
  noticedOn: true,
  concern: true,
  symptom: true,
  conditions: true,
  dangerSigns: true,
  noFileReason: true,
  coverOutcome: true,
  coverStartsOn: true,
  coverEndsOn: true,
  coverEvidence: true,
  coverPolicyVersion: true,
  coverBecause: true,
  coverWouldChange: true,
  coverFacts: true,
  coverSettlementStartsOn: true,
  coverSettlementEndsOn: true,
  dealer: { select: { country: true } },
  pack: {
    select: {
      serial: true,
      builtOn: true,
      revision: {
        select: { code: true, introducedOn: true, changes: true, model: { select: { name: true } } },
      },
    },
  },
  readingFile: { select: readingFileSelect },
  readingFiles: earlierReadingsSelect,
  mergedInto: { select: { reference: true } },
  mergedFrom: { select: { reference: true }, orderBy: { reference: "asc" } },
  decision: {
    select: {
      remedy: true,
      confirmedFault: true,
      confirmedFailure: true,
      reason: true,
      seenVersion: true,
      decidedAt: true,
      proposedByName: true,
      decidedByName: true,
      secondByName: true,
      replacementRevision: { select: { code: true } },
    },
  },
  moves: {
    select: { at: true, actorName: true, from: true, to: true, reason: true, dataVersion: true },
    orderBy: { sequence: "asc" },
  },
} as const satisfies Prisma.ReturnSelect;

type ReturnRow = Prisma.ReturnGetPayload<{ select: typeof returnViewSelect }>;

/** One of the dealer's own returns; null where it is not theirs or does not exist, which look the same from outside. */
export async function readDealerReturn(actor: Actor, typedReference: string): Promise<DealerReturnPage | null> {
  const reading = readReturnReference(typedReference);
  const { dealerId } = actor;
  if (reading.kind !== "reference" || dealerId === null) return null;
  const found = await asActor(actor, async (tx) => {
    const row = await tx.return.findFirst({
      where: { reference: reading.reference, dealerId },
      select: returnViewSelect,
    });
    const steps = row === null ? null : await readNextSteps(tx, actor, reading.reference, new Date());
    return row === null || steps === null ? null : { row, steps, duties: await readLegalDuties(tx) };
  });
  if (found === null) return null;
  const view = returnView(found.row, found.duties);
  const remedy = readDecidedRemedy(view.decision?.remedy ?? null);
  const danger = view.dangerSigns.length > 0;
  return {
    ...view,
    steps: found.steps,
    ...turnForDealer({ status: readReturnStatus(view.status), danger, remedy, turn: found.steps.turn }),
  };
}

export function returnView(row: ReturnRow, duties: readonly LegalDuty[]): ReturnView {
  const { pack, decision, readingFile } = row;
  const introducedOn = fromDateColumn(pack.revision.introducedOn);
  const changes = readChanges(pack.revision.changes);
  return {
    reference: row.reference,
    status: row.status,
    version: row.version,
    settledBefore: row.settledBefore,
    lodgedAt: row.lodgedAt,
    toldOn: fromDateColumn(row.toldOn),
    noticedOn: fromDateColumn(row.noticedOn),
    concern: row.concern,
    symptom: row.symptom,
    conditions: row.conditions,
    dangerSigns: row.dangerSigns,
    noFileReason: row.noFileReason,
    cover: readStoredCover(row, duties),
    pack: {
      serial: pack.serial,
      serialShown: shownSerial(pack.serial),
      modelName: pack.revision.model.name,
      revisionCode: pack.revision.code,
      revisionInWords: revisionInWords(pack.revision.code, introducedOn, changes),
      changes,
      builtOn: fromDateColumn(pack.builtOn),
    },
    joinedInto: row.mergedInto?.reference ?? null,
    joinedFrom: row.mergedFrom.map(({ reference }) => reference),
    readings: readingFile === null ? null : readingFileCard(readingFile),
    earlierReadings: earlierReadings(row.readingFiles, readingFile?.id ?? null),
    takesReadings: openToReadings.some((status) => status === row.status),
    decision:
      decision === null ? null : { ...decision, replacementRevisionCode: decision.replacementRevision?.code ?? null },
    moves: row.moves,
  };
}

function readStoredCover(row: ReturnRow, duties: readonly LegalDuty[]): CoverView {
  const answer = {
    outcome: readCoverOutcome(row.coverOutcome),
    startsOn: fromOptionalDateColumn(row.coverStartsOn),
    endsOn: fromOptionalDateColumn(row.coverEndsOn),
    evidence: row.coverEvidence,
  };
  const from = fromOptionalDateColumn(row.coverSettlementStartsOn);
  const to = fromOptionalDateColumn(row.coverSettlementEndsOn);
  return {
    ...answer,
    policyVersion: row.coverPolicyVersion,
    because: row.coverBecause,
    wouldChange: row.coverWouldChange,
    clocks: otherClocks({
      ...answer,
      facts: row.coverFacts,
      toldOn: fromDateColumn(row.toldOn),
      settlement: from === null || to === null ? null : { startsOn: from, endsOn: to },
      dealerCountry: row.dealer.country,
      duties,
    }),
  };
}
