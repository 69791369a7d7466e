import "server-only";
import { allMandatoryInside, wasOpened } from "@/lib/bench-tests/test-standing";
import { confirmedFaults } from "@/lib/returns/decision.schema";
import { decisionStands, readReturnStatus } from "@/lib/returns/return-status";
import { isSetApart, type SafetyState } from "@/lib/returns/safety-track";
import { judgedDangers, type ToldDangerOnPack } from "@/lib/returns/told-since";
import { mayComeBackFrom } from "@/lib/returns/unit-place";
import { isInbound, type Leg, type OutgoingLeg } from "@/lib/transport/leg";
import { type CaseSign, type ClassProposal, proposeClass } from "@/lib/transport/propose-class";
import { proposeOutgoingClass, type ReturnedPackEvidence } from "@/lib/transport/propose-outgoing";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { readFindingStandings } from "../bench-tests/bench-test-facts";
import type { Transaction } from "../database";
import { readCaseSign } from "../readings/case-readings";
import { type FollowedUnit, readKeptUnit, readUnitsLeftAway } from "../remedies/replacement-units";
import { readJourneyEnd } from "../returns/journey-end";
import { readPackTracks } from "../returns/track-rows";
import { readToldSince } from "../safety/told-since";
import { ownArrivals, packEvidence, packOnPaper, signsFoundAt, type TransportRow } from "./transport-evidence";

/** The pack that a return sends along one of its ways, and what is proposed for it today. */
export interface Travelling {
  readonly packId: string;
  /** The pack from stock; null where the returned pack itself travels. */
  readonly stockPackId: string | null;
  readonly pack: TransportRow["pack"];
  readonly proposal: ClassProposal;
  /** Another pack goes out in place of the returned one, and none is kept for it yet. */
  readonly unitIsMissing: boolean;
  /** When this journey could begin: what was declared before belongs to an earlier one. Null where there was none. */
  readonly since: Date | null;
}

/**
 * To the dealer goes the pack kept in its place where a replacement was decided, and back from there comes that pack; else it is
 * the returned pack that travels.
 */
export async function readTravelling(tx: Transaction, row: TransportRow, leg: Leg): Promise<Travelling> {
  const since = await readJourneyEnd(tx, row.packId);
  const itself = { packId: row.packId, stockPackId: null, pack: row.pack, unitIsMissing: false, since };
  const told = await readToldSince(tx, row.packId);
  const { handledAs } = await readPackTracks(tx, row.packId);
  const ofCase = await readCaseSign(tx, row.id);
  const marks = { told, ofCase, isSetApart: isSetApart(handledAs), isCautioned: isCautioned(handledAs) };
  if (leg === "to-maker")
    return { ...itself, proposal: proposeClass(packEvidence(row, judgedDangers(told, marks.isCautioned), ofCase)) };
  if (leg === "unit-to-maker") {
    const unit = await readUnitToComeBack(tx, row.id);
    return unit === null
      ? {
          ...itself,
          unitIsMissing: true,
          proposal: proposeClass(packEvidence(row, judgedDangers(told, marks.isCautioned), ofCase)),
        }
      : stockPack(tx, unit, leg);
  }
  const decision = await readDecision(tx, row);
  if (leg === "to-dealer" && decision?.remedy === "replace") {
    const kept = await readKeptUnit(tx, row.id);
    if (kept !== null) return stockPack(tx, kept, leg);
  }
  const unitIsMissing = leg === "to-dealer" && decision?.remedy === "replace";
  const pack = await returnedPack(tx, row, decision, marks);
  return { ...itself, unitIsMissing, proposal: proposeOutgoingClass({ leg, pack }) };
}

async function stockPack(tx: Transaction, { packId, reservedAt }: FollowedUnit, leg: Leg): Promise<Travelling> {
  // What came back, or arrived, has used up the papers of that journey though it is kept as before.
  const ended = await readJourneyEnd(tx, packId);
  const since = ended !== null && ended > reservedAt ? ended : reservedAt;
  const { returns, loans, build, ...pack } = await tx.pack.findUniqueOrThrow({
    where: { id: packId },
    select: {
      ...packOnPaper,
      build: { select: { vibrationPassed: true } },
      returns: { take: 1, select: { id: true } },
      loans: { take: 1, select: { id: true } },
    },
  });
  const { handledAs } = await readPackTracks(tx, packId);
  const proposal = proposeOutgoingClass({
    leg: "to-dealer",
    pack: {
      kind: "from-stock",
      hasBuildRecord: build !== null,
      vibrationPassed: build?.vibrationPassed ?? false,
      wasReturned: returns.length > 0,
      wasLent: loans.length > 0,
      wasAway: ended !== null || isInbound(leg),
      isFlagged: handledAs !== "normal",
    },
  });
  return { packId, stockPackId: packId, pack, proposal, unitIsMissing: false, since };
}

/**
 * The pack sent in place of the returned one that is to come back from the dealer: the one kept, else the last that was given up;
 * null where none is.
 */
export async function readUnitToComeBack(tx: Transaction, returnId: string): Promise<FollowedUnit | null> {
  const kept = await readKeptUnit(tx, returnId);
  for (const unit of [...(kept === null ? [] : [kept]), ...(await readUnitsLeftAway(tx, returnId))]) {
    const { custody } = await readPackTracks(tx, unit.packId);
    if (custody.id !== null && mayComeBackFrom.includes(custody.state)) return unit;
  }
  return null;
}

/** How the pack is flagged, what was told of it in words and what was read on its case. */
interface MarksOfPack {
  readonly told: readonly ToldDangerOnPack[];
  readonly ofCase: CaseSign | null;
  readonly isSetApart: boolean;
  readonly isCautioned: boolean;
}

const isCautioned = (flag: SafetyState) => flag === "caution" || flag === "incident-closed";

type StandingDecision = Awaited<ReturnType<typeof readDecision>>;

/** The decision that stands, with the release made under it. */
async function readDecision(tx: Transaction, row: TransportRow) {
  if (!decisionStands(readReturnStatus(row.status))) return null;
  const { decision } = await tx.return.findUniqueOrThrow({
    where: { id: row.id },
    select: {
      decision: {
        select: { remedy: true, confirmedFault: true, release: { select: { byName: true, at: true } } },
      },
    },
  });
  return decision;
}

async function returnedPack(
  tx: Transaction,
  row: TransportRow,
  decision: StandingDecision,
  marks: MarksOfPack,
): Promise<ReturnedPackEvidence> {
  const { moves } = await tx.return.findUniqueOrThrow({
    where: { id: row.id },
    select: { moves: { select: { move: true, at: true }, orderBy: { sequence: "asc" } } },
  });
  const { code, model } = row.pack.revision;
  const tested = { returnId: row.id, revisionCode: code, modelCode: model.code, moves };
  const standings = (await readFindingStandings(tx, tested)) ?? [];
  const release = decision?.release ?? null;
  const told = packEvidence(row, judgedDangers(marks.told, false), marks.ofCase);
  const toldAfter = release === null ? [] : marks.told.filter(({ at }) => at > release.at);
  const cameInAfter = release === null ? [] : ownArrivals(row).filter(({ arrivedAt }) => arrivedAt > release.at);
  return {
    kind: "returned",
    told,
    signsAfterRelease: [...judgedDangers(toldAfter, false), ...signsFoundAt(cameInAfter)],
    isSetApart: marks.isSetApart,
    isCautioned: marks.isCautioned,
    release: release === null ? null : { byName: release.byName, on: civilDateAt(release.at, row.dealer.timeZone) },
    allTestsInside: allMandatoryInside(standings),
    wasOpened: wasOpened(standings),
    confirmedFault: confirmedFaults.find((known) => known === decision?.confirmedFault) ?? null,
  };
}

/** The ways out on which the returned pack itself can be scanned away. */
export const legOfPlace: Readonly<Record<"with-carrier-out" | "supplier", OutgoingLeg>> = {
  "with-carrier-out": "to-dealer",
  supplier: "to-supplier",
};
