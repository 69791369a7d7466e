import "server-only";
import { dueMove, endsSoon, statusesThatTimeMoves } from "@/lib/returns/due-moves";
import { readTurn } from "@/lib/returns/return-turn";
import { DAY_MS } from "@/lib/warranty/clock-spans";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { asSystem, closeDatabase, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { alarmOverdueMeasurements, alarmOverdueStays } from "../receiving/quarantine-alarms";
import { keepSignalsAsSystem } from "../reliability/keep-signals";
import { remindOfWhatIsAwaited } from "../remedies/comes-back";
import { giveUpUnitsOfEndedAsSystem } from "../remedies/keep-unit";
import { callSafetyOfficerAsSystem, sendPagerCallsAsSystem } from "../safety/incident-calls";
import { readSerialsKeptAsEvidence, serialOfDraft } from "../safety/kept-as-evidence";
import { tellOfStopsAsSystem } from "../safety/tell-of-stops";
import { endContactsAsSystem } from "./end-contacts";
import { makeDueMoveAsSystem } from "./move-return";
import { passTurnsOfReadyAsSystem, remindDealersAsSystem } from "./ready-turn";
import { readReturnSettings } from "./return-settings";
import type { LoadedStanding } from "./return-standing";
import { loadToBeSent, passSendingTurnAsSystem } from "./sending-turn";
import { followUnitsAtDealersAsSystem } from "./unit-turn";

export interface DueRound {
  /** Moves that time asked for and that were made. */
  readonly moved: number;
  /** Asked for by time and refused by the table of moves: nothing was changed. */
  readonly refused: number;
  readonly endingSoon: number;
  /** Turns that went over: of returns allowed to be sent as their class counts, of those handed back as a replacement may come. */
  readonly turnsPassed: number;
  /** Dealers told that their day to confirm a receipt, or to say whether help helped, is over. */
  readonly dealersReminded: number;
  readonly draftsDeleted: number;
  /** Contacts of customers whose time was over. */
  readonly contactsEnded: number;
  /** Days over by which a customer was to give something back. */
  readonly awaitedBack: number;
  /** Packs that were still kept for a return that is over. */
  readonly unitsGivenUp: number;
  readonly quarantineAlarms: number;
  /** Measurements in quarantine that nobody took, told now. */
  readonly measurementAlarms: number;
  readonly calls: number;
  readonly pagerSent: number;
  readonly pagerFailed: number;
  /** Issues under which nothing goes out that were told for the first time. */
  readonly stopsTold: number;
  /** Early signals that came for the first time with the day that is over. */
  readonly signalsRaised: number;
}

/** Returns looked at in one round, so that a long list never holds the one connection of the embedded database for long. */
const RETURNS_A_ROUND = 200;
/** What stops a sending becomes known without a move, so those allowed to be sent are looked at this often. Engineering default. */
const SENDING_LOOK_MS = 15 * 60 * 1000;

/**
 * One round of everything that belongs to time. Each return, draft and call is a transaction of its own, decided anew
 * inside it, so that the round may run twice at once, be cut short, or come late, and nothing happens twice. As the
 * system: it is nobody's request.
 */
export async function runDueAsSystem(now = new Date(), returnsARound = RETURNS_A_ROUND): Promise<DueRound> {
  const calls = await callSafetyOfficerAsSystem(now);
  const pager = await sendPagerCallsAsSystem(now);
  const quarantineAlarms = await asSystem((tx) => alarmOverdueStays(tx, now));
  const measurementAlarms = await asSystem((tx) => alarmOverdueMeasurements(tx, now));
  const draftsDeleted = await asSystem((tx) => deleteOldDrafts(tx, now));
  const awaitedBack = await asSystem((tx) => remindOfWhatIsAwaited(tx, now));
  const contactsEnded = await endContactsAsSystem(now);
  const unitsGivenUp = await giveUpUnitsOfEndedAsSystem(now);
  const stopsTold = await tellOfStopsAsSystem();
  const signalsRaised = await keepSignalsAsSystem(now);
  let moved = 0;
  let refused = 0;
  let endingSoon = 0;
  const dealersReminded = await remindDealersAsSystem(now);
  let turnsPassed = (await followUnitsAtDealersAsSystem(now)) + (await passTurnsOfReadyAsSystem(now));
  for (const reference of await asSystem((tx) => findCandidates(tx, now, returnsARound))) {
    if (await passSendingTurnAsSystem(reference, now)) turnsPassed += 1;
    const answer = await makeDueMoveAsSystem(
      reference,
      ({ standing, row }) => dueMove(standing, readTurn(row.turn)),
      now,
    );
    if (answer?.ok === true) moved += 1;
    else if (answer !== null) refused += 1;
    else endingSoon += (await asSystem((tx) => tellIfEndsSoon(tx, reference, now))) ? 1 : 0;
  }
  return {
    moved,
    refused,
    endingSoon,
    turnsPassed,
    dealersReminded,
    draftsDeleted,
    contactsEnded,
    awaitedBack,
    unitsGivenUp,
    quarantineAlarms,
    measurementAlarms,
    calls,
    pagerSent: pager.sent,
    pagerFailed: pager.failed,
    stopsTold,
    signalsRaised,
  };
}

/**
 * Returns that time could move: at such a status, and untouched for a day, since every period here is a day at least; those
 * allowed to be sent at any time, but not in every round.
 * Those not looked at for longest come first, so that returns which nothing moves never keep the others out.
 */
async function findCandidates(tx: Transaction, now: Date, returnsARound: number): Promise<string[]> {
  const rows = await tx.return.findMany({
    where: {
      status: { in: [...statusesThatTimeMoves] },
      settledBefore: false,
      OR: [
        {
          status: "return-approved",
          OR: [{ dueCheckedAt: null }, { dueCheckedAt: { lte: new Date(now.getTime() - SENDING_LOOK_MS) } }],
        },
        {
          status: { not: "return-approved" },
          moves: { none: { at: { gt: new Date(now.getTime() - DAY_MS) } } },
        },
      ],
    },
    select: { id: true, reference: true },
    orderBy: [{ dueCheckedAt: { sort: "asc", nulls: "first" } }, { dueAt: "asc" }],
    take: returnsARound,
  });
  await tx.return.updateMany({ where: { id: { in: rows.map(({ id }) => id) } }, data: { dueCheckedAt: now } });
  return rows.map(({ reference }) => reference);
}

/** The permission to send ends in a few days and the pack has not been handed over: told once for each end. */
async function tellIfEndsSoon(tx: Transaction, reference: string, now: Date): Promise<boolean> {
  const loaded = await loadToBeSent(tx, reference, now);
  if (loaded === null || !endsSoon(loaded.standing)) return false;
  const ends = endOf(loaded);
  const key = { kind: "expiry-reminder", reference, occasion: `ends ${ends.toISOString()}` } as const;
  const isTold = await tx.notice.count({ where: { key: { startsWith: `${key.kind} ${reference} ${key.occasion} ` } } });
  if (isTold > 0) return false;
  await queueNotice(tx, {
    ...key,
    returnId: loaded.row.id,
    to: { dealerId: loaded.row.dealerId },
    until: civilDateAt(ends, loaded.row.dealer.timeZone),
  });
  return true;
}

function endOf({ standing }: LoadedStanding): Date {
  const ends = standing.known.sendingEndsAt;
  if (ends === null) throw new RangeError(`${standing.reference}: no permission to send that could end`);
  return new Date(ends);
}

/**
 * What was not sent and not touched for so long is deleted, unless a danger was told in it or its pack stands in the record of an
 * incident.
 */
async function deleteOldDrafts(tx: Transaction, now: Date): Promise<number> {
  const { draftKeptDays } = await readReturnSettings(tx, now, "UTC");
  const old = await tx.returnDraft.findMany({
    where: { dangerSince: null, savedAt: { lt: new Date(now.getTime() - draftKeptDays * DAY_MS) } },
    select: { id: true, answers: true },
  });
  const drafts = old.map(({ id, answers }) => ({ id, serial: serialOfDraft(answers) }));
  const evidence = await readSerialsKeptAsEvidence(
    tx,
    drafts.map(({ serial }) => serial),
  );
  const { count } = await tx.returnDraft.deleteMany({
    where: { id: { in: drafts.flatMap(({ id, serial }) => (evidence.has(serial) ? [] : [id])) } },
  });
  return count;
}

/** Gives the database back; for a command that does one round and ends. */
export function closeDueRound(): Promise<void> {
  return closeDatabase();
}
