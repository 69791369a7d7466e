import "server-only";
import type { Actor } from "@/lib/access/actor";
import { sayCoding } from "@/lib/bench-tests/say-coding";
import { changedSince } from "@/lib/returns/changed-since";
import { comesBackWords } from "@/lib/returns/comes-back";
import { oldPackOrderWords, readOldPackOrder } from "@/lib/returns/old-pack";
import { readReturnReference } from "@/lib/returns/return-reference";
import { returnStatusWords } from "@/lib/returns/return-status";
import { type TrackName, trackStateWords } from "@/lib/returns/track-words";
import { lineStateWords } from "@/lib/settlement/line-moves";
import { readSupplierState, supplierStateWords } from "@/lib/settlement/supplier-claim";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";
import { fromOptionalDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { readLineState } from "../money/settlement-moves";
import { listComesBack } from "../remedies/awaited-back";

export interface ChangesSince {
  /** Where the return stood on the screen of the person. */
  readonly was: string;
  /** Where it stands now. */
  readonly now: string;
  /** What others did meanwhile, oldest first. */
  readonly changes: readonly string[];
}

/** What happened to a return after somebody opened it; null where there is no such return for this person. */
export async function readChangesSince(
  actor: Actor,
  typedReference: string,
  seenVersion: number,
): Promise<ChangesSince | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return null;
  const row = await asActor(actor, (tx) =>
    tx.return.findUnique({
      where: { reference: reading.reference },
      select: {
        status: true,
        moves: { select: { dataVersion: true, to: true, actorName: true }, orderBy: { sequence: "asc" } },
      },
    }),
  );
  if (row === null) return null;
  const seen = row.moves.findLast(({ dataVersion }) => dataVersion <= seenVersion);
  return {
    was: seen === undefined ? "Not lodged" : returnStatusWords(seen.to),
    now: returnStatusWords(row.status),
    changes: changedSince(row.moves, seenVersion),
  };
}

/**
 * What happened to a track of a return, or of its pack, after somebody opened it; null where nothing did, or there is no such
 * return for this person. Of a pack that went through other hands a person reads the steps of the own returns alone: what
 * they cannot read is told without saying more.
 */
export async function readTrackChangesSince(
  actor: Actor,
  typedReference: string,
  track: TrackName,
  seenVersion: number,
): Promise<ChangesSince | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return null;
  const found = await asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: { id: true, packId: true },
    });
    if (row === null) return null;
    return tx.track.findFirst({
      where: track === "remedy" ? { track, returnId: row.id } : { track, packId: row.packId },
      select: {
        state: true,
        version: true,
        moves: {
          select: { sequence: true, dataVersion: true, from: true, to: true, actorName: true },
          orderBy: { sequence: "asc" },
        },
      },
    });
  });
  if (found === null || found.version <= seenVersion) return null;
  const say = (state: string) => trackStateWords(track, state);
  const { moves } = found;
  const seen =
    moves.find(({ sequence }) => sequence === seenVersion)?.to ??
    moves.find(({ sequence }) => sequence === seenVersion + 1)?.from;
  const changes = [...new Set(changedSince(moves, seenVersion, say))];
  return {
    was: seen === undefined ? "As this page shows it" : say(seen),
    now: say(found.state),
    changes: changes.length > 0 ? changes : ["Somebody else changed it."],
  };
}

/** How the fault of a return was coded when somebody opened it, and what was coded since; null where nothing was. */
export async function readCodingChangesSince(
  actor: Actor,
  typedReference: string,
  seenVersion: number,
): Promise<ChangesSince | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return null;
  const codings = await asActor(actor, (tx) =>
    tx.faultCoding.findMany({ where: { return: { reference: reading.reference } }, orderBy: { version: "asc" } }),
  );
  const steps = codings.map(({ version, byName, ...coding }) => ({
    version,
    to: sayCoding(coding),
    actorName: byName,
  }));
  return sinceVersion(steps, seenVersion, "Not coded yet");
}

/** Where a line of money stood when somebody opened it, and where it went since; null where nowhere. */
export async function readLineChangesSince(
  actor: Actor,
  lineId: string,
  seenVersion: number,
): Promise<ChangesSince | null> {
  const moves = await asActor(actor, (tx) =>
    tx.settlementMove.findMany({
      where: { lineId },
      select: { version: true, to: true, actorName: true },
      orderBy: { version: "asc" },
    }),
  );
  return sinceVersion(moves, seenVersion, "Not claimed yet", (to) => lineStateWords[readLineState(to)]);
}

/** What was ordered for an old pack when somebody opened it, and what since; null where nothing was. */
export async function readOldPackChangesSince(
  actor: Actor,
  typedReference: string,
  seenOrders: number,
): Promise<ChangesSince | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return null;
  const orders = await asActor(actor, (tx) =>
    tx.oldPackOrder.findMany({
      where: { return: { reference: reading.reference }, about: "old-pack" },
      orderBy: [{ orderedAt: "asc" }, { id: "asc" }],
      select: { order: true, dueOn: true, orderedByName: true },
    }),
  );
  const said = orders.map(({ order, dueOn, orderedByName }) => ({
    words: oldPackOrderWords[readOldPackOrder(order)],
    dueOn: fromOptionalDateColumn(dueOn),
    orderedByName,
  }));
  return sinceVersion(said.map(asStep), seenOrders, "Nothing was ordered yet");
}

/** What was said of what comes back when somebody opened it, and what since; null where nothing was. */
export async function readComesBackChangesSince(
  actor: Actor,
  typedReference: string,
  seenOrders: number,
): Promise<ChangesSince | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference") return null;
  const orders = await asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({ where: { reference: reading.reference }, select: { id: true } });
    return row === null ? [] : listComesBack(tx, row.id);
  });
  const said = orders.map(({ order, ...rest }) => ({ ...rest, words: comesBackWords[order] }));
  return sinceVersion(said.map(asStep), seenOrders, "Nothing was said of it yet");
}

interface SaidOrder {
  readonly words: string;
  readonly dueOn: CalendarDate | null;
  readonly orderedByName: string;
}

/** Orders have no version of their own: their place among the others is one. */
function asStep({ words, dueOn, orderedByName }: SaidOrder, index: number): VersionedStep {
  const to = dueOn === null ? words : `${words}, by ${sayDate(dueOn)}`;
  return { version: index + 1, to, actorName: orderedByName };
}

/** Where a supplier's line stood when somebody opened it, and where it went since; null where nowhere. */
export async function readSupplierChangesSince(
  actor: Actor,
  claimId: string,
  seenVersion: number,
): Promise<ChangesSince | null> {
  const moves = await asActor(actor, (tx) =>
    tx.supplierMove.findMany({
      where: { claimId },
      select: { version: true, to: true, actorName: true },
      orderBy: { version: "asc" },
    }),
  );
  return sinceVersion(moves, seenVersion, "Not opened yet", (to) => supplierStateWords[readSupplierState(to)]);
}

interface VersionedStep {
  readonly version: number;
  readonly to: string;
  readonly actorName: string;
}

/** Steps, oldest first, told from the version on somebody's screen on; `say` where their words are not ready. */
function sinceVersion(
  steps: readonly VersionedStep[],
  seenVersion: number,
  before: string,
  say: (to: string) => string = (words) => words,
): ChangesSince | null {
  const changes = changedSince(
    steps.map(({ version, ...step }) => ({ ...step, dataVersion: version })),
    seenVersion,
    say,
  );
  const now = steps.at(-1)?.to;
  if (now === undefined || changes.length === 0) return null;
  const seen = steps.findLast(({ version }) => version <= seenVersion)?.to;
  return { was: seen === undefined ? before : say(seen), now: say(now), changes };
}
