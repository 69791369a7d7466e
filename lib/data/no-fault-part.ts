import "server-only";
import { type NoFaultStanding, noFaultStanding } from "@/lib/bench-tests/no-fault-protocol";
import {
  COUNT_WINDOW_DAYS,
  type NoFaultTrigger,
  noFaultTriggers,
  SHARE_WINDOW_DAYS,
} from "@/lib/bench-tests/no-fault-triggers";
import { isLoadTest } from "@/lib/bench-tests/test-definition.schema";
import { testRound } from "@/lib/bench-tests/test-rounds";
import type { TestStanding } from "@/lib/bench-tests/test-standing";
import { readNoFaultEntries } from "./bench-test-facts";
import type { Transaction } from "./database";
import type { LoadedStanding } from "./return-standing";

export interface NoFaultPart {
  readonly standing: NoFaultStanding;
  readonly entries: Awaited<ReturnType<typeof readNoFaultEntries>>;
  readonly triggers: readonly NoFaultTrigger[];
}

const DAY_MS = 86_400_000;
const noFault = "no-fault-found";

/** Where the protocol of a return stands, and which criteria start it now. */
export async function readNoFaultPart(
  tx: Transaction,
  { row, row: { id, packId, moves } }: LoadedStanding,
  standings: readonly TestStanding[],
  now: Date,
): Promise<NoFaultPart> {
  const entries = await readNoFaultEntries(tx, id, testRound(moves).reviewedAnewAt);
  const { symptom, lodgedAt } = await tx.return.findUniqueOrThrow({
    where: { id },
    select: { symptom: true, lodgedAt: true },
  });
  const pack = { revision: { code: row.pack.revision.code } };
  const since = (days: number) => new Date(now.getTime() - days * DAY_MS);
  const standard = standings.filter(({ test }) => test.isMandatory && !isLoadTest(test.phase));
  return {
    entries,
    standing: noFaultStanding(entries),
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
