import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type NoFaultOutcome, type NoFaultStep, noFaultRefusals, whyNoStep } from "@/lib/bench-tests/no-fault-protocol";
import { testRound } from "@/lib/bench-tests/test-rounds";
import { outcomesOpen, testStops, whatStopsStep } from "@/lib/bench-tests/what-stops-a-test";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isOpenStatus } from "@/lib/returns/return-status";
import { asActor, type Transaction } from "../database";
import { loadStanding } from "../returns/return-standing";
import { lockPack } from "../returns/track-rows";
import { readBenchStanding } from "./bench-facts";
import { readNoFaultEntries } from "./bench-test-facts";

export type NoFaultAnswer =
  | { readonly ok: true }
  | { readonly ok: false; readonly reason: string; readonly sentence: string };

/** Starts the protocol, with the criteria that were met or another reason. */
export function startNoFault(actor: Actor, reference: string, why: string, now = new Date()): Promise<NoFaultAnswer> {
  return inReturn(actor, reference, async (tx, { id, entries }) => {
    if (entries.length > 0) return refuse("started-already", noFaultRefusals["started-already"]);
    return write(tx, actor, id, { kind: "started", note: why }, now);
  });
}

/** Records what a step of the protocol showed. A step may be made again; the last one counts. */
export function recordNoFaultStep(
  actor: Actor,
  reference: string,
  { step, outcome, note }: { readonly step: NoFaultStep; readonly outcome: NoFaultOutcome; readonly note: string },
  now = new Date(),
): Promise<NoFaultAnswer> {
  return inReturn(actor, reference, async (tx, { id, reference: read, entries, testerIds }) => {
    const why = whyNoStep(entries, step, { userId: actor.userId, testerIds });
    if (why !== null) return refuse(why, noFaultRefusals[why]);
    const loaded = await loadStanding(tx, read, now);
    if (loaded === null) return notFound;
    const stop = whatStopsStep(step, (await readBenchStanding(tx, loaded, now)).facts);
    if (stop !== null && !outcomesOpen(stop).includes(outcome)) return refuse(stop, testStops[stop]);
    return write(tx, actor, id, { kind: "step", step, outcome, note }, now);
  });
}

/** Leaves the protocol out; the service lead alone may, with a reason. */
export function waiveNoFault(actor: Actor, reference: string, why: string, now = new Date()): Promise<NoFaultAnswer> {
  if (!may(actor, "waive-no-fault-protocol")) {
    return Promise.resolve(refuse("not-allowed", "Only the service lead leaves the protocol out."));
  }
  return inReturn(actor, reference, (tx, { id }) => write(tx, actor, id, { kind: "waived", note: why }, now));
}

interface NoFaultRow {
  readonly id: string;
  readonly reference: string;
  readonly entries: Awaited<ReturnType<typeof readNoFaultEntries>>;
  readonly testerIds: readonly string[];
}

async function write(
  tx: Transaction,
  actor: Actor,
  returnId: string,
  entry: { readonly kind: string; readonly step?: string; readonly outcome?: string; readonly note: string },
  now: Date,
): Promise<NoFaultAnswer> {
  await tx.noFaultEntry.create({
    data: { ...entry, returnId, byUserId: actor.userId, byName: actor.name, at: now },
  });
  return { ok: true };
}

async function inReturn(
  actor: Actor,
  typedReference: string,
  run: (tx: Transaction, row: NoFaultRow) => Promise<NoFaultAnswer>,
): Promise<NoFaultAnswer> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "test-pack")) return notFound;
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference: reading.reference },
      select: {
        id: true,
        packId: true,
        status: true,
        moves: { select: { move: true, at: true } },
      },
    });
    if (row === null) return notFound;
    if (!isOpenStatus(row.status)) return refuse("closed", "The return is closed: nothing is tried for it any more.");
    await lockPack(tx, row.packId);
    const round = testRound(row.moves);
    const testers = await tx.testResult.findMany({
      where: { returnId: row.id, ...(round.testsBeganAt === null ? {} : { at: { gte: round.testsBeganAt } }) },
      select: { byUserId: true },
      distinct: ["byUserId"],
    });
    return run(tx, {
      id: row.id,
      reference: reading.reference,
      entries: await readNoFaultEntries(tx, row.id, round.reviewedAnewAt),
      testerIds: testers.map(({ byUserId }) => byUserId),
    });
  });
}

const notFound = refuse("not-found", "There is no such return for you.");

function refuse(reason: string, sentence: string): NoFaultAnswer {
  return { ok: false, reason, sentence };
}
