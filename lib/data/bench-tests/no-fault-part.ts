import "server-only";
import {
  type NoFaultOutcome,
  type NoFaultStanding,
  type NoFaultStep,
  noFaultStanding,
  noFaultSteps,
} from "@/lib/bench-tests/no-fault-protocol";
import {
  COUNT_WINDOW_DAYS,
  type NoFaultTrigger,
  noFaultTriggers,
  SHARE_WINDOW_DAYS,
} from "@/lib/bench-tests/no-fault-triggers";
import { isLoadTest } from "@/lib/bench-tests/test-definition.schema";
import { testRound } from "@/lib/bench-tests/test-rounds";
import { type BenchFacts, outcomesOpen, testStops, whatStopsStep } from "@/lib/bench-tests/what-stops-a-test";
import { DAY_MS } from "@/lib/warranty/clock-spans";
import type { Transaction } from "../database";
import type { LoadedStanding } from "../returns/return-standing";
import { readNoFaultEntries } from "./bench-test-facts";

export interface NoFaultPart {
  readonly standing: NoFaultStanding;
  readonly entries: Awaited<ReturnType<typeof readNoFaultEntries>>;
  readonly triggers: readonly NoFaultTrigger[];
  /** What may be written down of each step now, and why not everything. */
  readonly steps: readonly NoFaultStepView[];
}

export interface NoFaultStepView {
  readonly step: NoFaultStep;
  /** Why it is not to be made now; null where it may be. */
  readonly stop: string | null;
  readonly outcomes: readonly NoFaultOutcome[];
}

const noFault = "no-fault-found";

/** Where the protocol of a return stands, and which criteria start it now. */
export async function readNoFaultPart(
  tx: Transaction,
  { row, row: { id, packId, moves } }: LoadedStanding,
  facts: BenchFacts,
  now: Date,
): Promise<NoFaultPart> {
  const entries = await readNoFaultEntries(tx, id, testRound(moves).reviewedAnewAt);
  const { symptom, lodgedAt } = await tx.return.findUniqueOrThrow({
    where: { id },
    select: { symptom: true, lodgedAt: true },
  });
  const pack = { revision: { code: row.pack.revision.code } };
  const since = (days: number) => new Date(now.getTime() - days * DAY_MS);
  const standard = facts.standings.filter(({ test }) => test.isMandatory && !isLoadTest(test.phase));
  return {
    entries,
    standing: noFaultStanding(entries),
    steps: noFaultSteps.map((step) => {
      const stop = whatStopsStep(step, facts);
      return { step, stop: stop === null ? null : testStops[stop], outcomes: outcomesOpen(stop) };
    }),
    triggers: noFaultTriggers({
      standardTestsFoundNothing:
        standard.length > 0 && standard.every(({ state }) => state.kind === "done" && state.verdict === "inside"),
      earlierOfThisPack: await tx.return.count({
        where: { packId, lodgedAt: { lt: lodgedAt }, decision: { confirmedFault: noFault } },
      }),
      ofRevision: {
        noFault: await tx.return.count({
          where: { pack, decision: { confirmedFault: noFault, decidedAt: { gte: since(SHARE_WINDOW_DAYS) } } },
        }),
        decided: await tx.return.count({
          where: { pack, decision: { decidedAt: { gte: since(SHARE_WINDOW_DAYS) } } },
        }),
      },
      sameComplaint: await tx.return.count({
        where: { pack, symptom, decision: { confirmedFault: noFault, decidedAt: { gte: since(COUNT_WINDOW_DAYS) } } },
      }),
    }),
  };
}
