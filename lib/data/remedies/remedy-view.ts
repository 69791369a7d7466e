import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ComesBackAnswer, comesBackAnswers } from "@/lib/returns/comes-back";
import type { CustodyPlace } from "@/lib/returns/custody-track";
import { type DecidableRemedy, readDecidedRemedy } from "@/lib/returns/decision.schema";
import {
  type RemedyFacts,
  type RemedyState,
  type RemedyStep,
  readRemedyState,
  remedyStepsOf,
} from "@/lib/returns/remedy-track";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isOpenStatus, type ReturnStatus, readReturnStatus } from "@/lib/returns/return-status";
import { type TimeToObject, timeToObject } from "@/lib/returns/told-periods";
import { nextUnitPlaces } from "@/lib/returns/unit-place";
import { plainAmount } from "@/lib/settlement/money";
import type { ConsumerChoice, LegalPrompt } from "@/lib/warranty/legal-prompts";
import { asActor, type Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";
import { loadStanding } from "../returns/return-standing";
import { readPackTracks, readRemedyTrack } from "../returns/track-rows";
import { readLegalPrompts } from "../warranty/legal-notices";
import { readRemedyFacts } from "./remedy-facts";
import {
  type KeptUnit,
  listUnitsInStore,
  readKeptUnit,
  readUnitsLeftAway,
  returnToReplaceSelect,
} from "./replacement-units";
import { readUnitPlace } from "./unit-custody";

/** What the customer of a return was promised and has received, for the bench, the dealer and whoever pays. */
export interface RemedyView {
  readonly reference: string;
  readonly status: ReturnStatus;
  readonly isOpen: boolean;
  readonly state: RemedyState;
  readonly version: number;
  /** What is this person's to record next, and what of it does not follow yet. */
  readonly next: readonly RemedyStep[];
  readonly facts: RemedyFacts;
  readonly steps: readonly {
    readonly at: Date;
    readonly to: RemedyState;
    readonly reason: string;
    readonly actorName: string;
  }[];
  readonly decision: {
    readonly remedy: DecidableRemedy;
    readonly reason: string;
    readonly refund: string | null;
    readonly refusalTerm: string | null;
    readonly refusalEvidence: string | null;
    readonly refusalAlternatives: string | null;
    readonly comesBack: string | null;
    readonly comesBackWhat: ComesBackAnswer | null;
    readonly revisionCode: string | null;
  } | null;
  readonly timeToObject: TimeToObject;
  /** What the law of the place of sale asks to be shown before the remedy; before a decision, what it would ask. */
  readonly prompts: readonly LegalPrompt[];
  readonly country: string;
  /** Whether counsel confirmed the row of law that asks for them. */
  readonly counsel: string;
  readonly shown: readonly {
    readonly kind: string;
    readonly text: string;
    readonly choice: string | null;
    readonly shownAt: Date;
    readonly shownByName: string;
  }[];
  readonly choice: ConsumerChoice | null;
  readonly kept:
    | (Pick<KeptUnit, "reservedAt" | "reservedByName"> & {
        readonly serialShown: string;
        readonly place: UnitPlace | null;
      })
    | null;
  /** Packs given up before they were back in the store, which this return follows until they are; the house's alone. */
  readonly leftAway: readonly { readonly serialShown: string; readonly serial: string; readonly place: UnitPlace }[];
  readonly unitStop: string | null;
  /** The pack from stock the customer was given, and who gave it; null where none was. */
  readonly givenUnit: {
    readonly serialShown: string;
    readonly at: Date;
    readonly byName: string;
    /** Where it was last seen, and the last return of its own, by which it comes back; both the house's alone. */
    readonly place: CustodyPlace | null;
    readonly ownReturn: string | null;
  } | null;
  /** When a pack went over the counter, whichever it was; null before. */
  readonly handedBackAt: Date | null;
  /** Packs in the store that may go, oldest first; the house's alone. */
  readonly inStore: readonly { readonly serialShown: string; readonly builtOn: Date }[];
  readonly loans: readonly {
    readonly serialShown: string;
    readonly lentAt: Date;
    readonly lentByName: string;
    readonly returnedAt: Date | null;
    readonly condition: string | null;
  }[];
}

/** Where a pack kept was recorded since it was sent, and what this person may record next. */
export interface UnitPlace {
  readonly state: CustodyPlace;
  readonly version: number;
  readonly next: readonly CustodyPlace[];
}

/** More would be a stock list, which this page is not. */
const UNITS_OFFERED = 6;

/** Null where there is no such return for this person. */
export async function readRemedyView(
  actor: Actor,
  typedReference: string,
  now = new Date(),
): Promise<RemedyView | null> {
  const reading = readReturnReference(typedReference);
  const mayRead = may(actor, "read-queue") || may(actor, "read-own-returns") || may(actor, "read-cases-for-money");
  if (reading.kind !== "reference" || !mayRead) return null;
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({ where: { reference: reading.reference }, select: viewSelect });
    const loaded = row === null ? null : await loadStanding(tx, reading.reference, now);
    if (row === null || loaded === null) return null;
    const track = await readRemedyTrack(tx, row.id);
    const { facts, shown } = await readRemedyFacts(tx, row.id, now);
    const kept = await readKeptUnit(tx, row.id);
    const isHouse = may(actor, "read-build-record");
    const law = await readLegalPrompts(tx, row.id, { remedy: facts.decidedRemedy ?? "repair" }, now);
    const { past, told, timeZone } = loaded.standing;
    return {
      reference: row.reference,
      status: readReturnStatus(row.status),
      isOpen: isOpenStatus(row.status),
      state: track.state,
      version: track.version,
      // Whoever records more on a return that is over opens it again first.
      next: isOpenStatus(row.status) ? remedyStepsOf(actor, { state: track.state, facts }) : [],
      facts,
      steps: track.id === null ? [] : await readSteps(tx, track.id),
      decision: decisionOf(row.decision),
      timeToObject: timeToObject(past, { told, timeZone, now }),
      prompts: law.prompts,
      country: law.country,
      counsel: law.counsel,
      shown: row.legalNotices,
      choice: shown.choice,
      kept:
        kept === null
          ? null
          : {
              serialShown: shownSerial(kept.serial),
              reservedAt: kept.reservedAt,
              reservedByName: kept.reservedByName,
              place: isHouse || actor.dealerId !== null ? await readPlaceOf(tx, actor, kept.packId) : null,
            },
      leftAway: isHouse ? await readLeftAway(tx, actor, row.id) : [],
      unitStop: shown.unitStop,
      givenUnit: await readGivenUnit(tx, row.reservations, isHouse),
      handedBackAt: loaded.standing.past.handedBackAt === null ? null : new Date(loaded.standing.past.handedBackAt),
      inStore: isHouse && kept === null && facts.decidedRemedy === "replace" ? await readInStore(tx, row.id) : [],
      loans: row.loans.map(({ pack, ...loan }) => ({ ...loan, serialShown: shownSerial(pack.serial) })),
    };
  });
}

const viewSelect = {
  id: true,
  reference: true,
  status: true,
  dealer: { select: { timeZone: true } },
  decision: {
    select: {
      remedy: true,
      reason: true,
      refundMinor: true,
      refundCurrency: true,
      refusalTerm: true,
      refusalEvidence: true,
      refusalAlternatives: true,
      comesBack: true,
      comesBackWhat: true,
      replacementRevision: { select: { code: true } },
    },
  },
  legalNotices: {
    select: { kind: true, text: true, choice: true, shownAt: true, shownByName: true },
    orderBy: { shownAt: "asc" },
  },
  reservations: {
    where: { ending: "handed-over" },
    select: { endedAt: true, endedByName: true, packId: true, pack: { select: { serial: true } } },
    orderBy: { endedAt: "desc" },
    take: 1,
  },
  loans: {
    select: {
      lentAt: true,
      lentByName: true,
      returnedAt: true,
      condition: true,
      pack: { select: { serial: true } },
    },
    orderBy: { lentAt: "asc" },
  },
} as const;

interface EndedReservation {
  readonly endedAt: Date | null;
  readonly endedByName: string | null;
  readonly packId: string;
  readonly pack: { readonly serial: string };
}

async function readGivenUnit(
  tx: Transaction,
  [given]: readonly EndedReservation[],
  isHouse: boolean,
): Promise<RemedyView["givenUnit"]> {
  if (given === undefined || given.endedAt === null) return null;
  const shown = { serialShown: shownSerial(given.pack.serial), at: given.endedAt, byName: given.endedByName ?? "" };
  if (!isHouse) return { ...shown, place: null, ownReturn: null };
  const own = await tx.return.findFirst({
    where: { packId: given.packId },
    orderBy: { lodgedAt: "desc" },
    select: { reference: true },
  });
  const { custody } = await readPackTracks(tx, given.packId);
  return { ...shown, place: custody.state, ownReturn: own?.reference ?? null };
}

async function readPlaceOf(tx: Transaction, actor: Actor, packId: string): Promise<UnitPlace | null> {
  const place = await readUnitPlace(tx, packId);
  if (place === null) return null;
  return { state: place.state, version: place.version, next: nextUnitPlaces(actor, place.state) };
}

async function readLeftAway(tx: Transaction, actor: Actor, returnId: string): Promise<RemedyView["leftAway"]> {
  const left = [];
  for (const { packId, serial } of await readUnitsLeftAway(tx, returnId)) {
    const place = await readPlaceOf(tx, actor, packId);
    if (place !== null) left.push({ serial, serialShown: shownSerial(serial), place });
  }
  return left;
}

async function readInStore(tx: Transaction, returnId: string): Promise<RemedyView["inStore"]> {
  const row = await tx.return.findUniqueOrThrow({ where: { id: returnId }, select: returnToReplaceSelect });
  const units = await listUnitsInStore(tx, row, UNITS_OFFERED);
  return units.map(({ serial, builtOn }) => ({ serialShown: shownSerial(serial), builtOn }));
}

async function readSteps(tx: Transaction, trackId: string): Promise<RemedyView["steps"]> {
  const rows = await tx.trackMove.findMany({
    where: { trackId },
    select: { at: true, to: true, reason: true, actorName: true },
    orderBy: { sequence: "asc" },
  });
  return rows.map(({ to, ...step }) => ({ ...step, to: readRemedyState(to) }));
}

function decisionOf(
  stored: {
    remedy: string;
    reason: string;
    refundMinor: number | null;
    refundCurrency: string | null;
    refusalTerm: string | null;
    refusalEvidence: string | null;
    refusalAlternatives: string | null;
    comesBack: string | null;
    comesBackWhat: string | null;
    replacementRevision: { code: string } | null;
  } | null,
): RemedyView["decision"] {
  const remedy = readDecidedRemedy(stored?.remedy ?? null);
  if (stored === null || remedy === null) return null;
  const { refundMinor, refundCurrency, replacementRevision, comesBackWhat, ...decision } = stored;
  return {
    ...decision,
    comesBackWhat: comesBackAnswers.find((known) => known === comesBackWhat) ?? null,
    remedy,
    refund:
      refundMinor === null ? null : `${plainAmount(refundMinor, refundCurrency ?? "")} ${refundCurrency ?? ""}`.trim(),
    revisionCode: replacementRevision?.code ?? null,
  };
}
