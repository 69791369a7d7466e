import "server-only";
import type { TestPurpose } from "@/lib/bench-tests/test-definition.schema";
import { testRound } from "@/lib/bench-tests/test-rounds";
import { type TestStanding, testStandings } from "@/lib/bench-tests/test-standing";
import type { BenchFacts } from "@/lib/bench-tests/what-stops-a-test";
import type { Transaction } from "../database";
import type { LoadedStanding } from "../returns/return-standing";
import { readFreeze } from "../safety/pack-freeze";
import { readKeptTests } from "./bench-test-facts";
import { type PlanForTests, readPlanInForce } from "./test-plan-rows";

/** What stops or opens the tests of a return now. */
export async function readBenchFacts(
  tx: Transaction,
  { standing: { status, custody, safety, isOnHold }, row: { packId } }: LoadedStanding,
  purpose: TestPurpose,
  standings: readonly TestStanding[],
): Promise<BenchFacts> {
  const { noDestructiveTest } = await readFreeze(tx, packId);
  return { purpose, status, custody, safety, isOnHold, noDestructiveTest, standings };
}

/** The plan by which a return is tested: that of the day it came to the bench, or of today where it never did. */
export function readPlanOfReturn(
  tx: Transaction,
  { row: { pack, moves } }: LoadedStanding,
  now: Date,
): Promise<PlanForTests | null> {
  const { revision } = pack;
  const codes = { revisionCode: revision.code, modelCode: revision.model.code };
  return readPlanInForce(tx, codes, testRound(moves).testsBeganAt ?? now);
}

/** The plan a return is tested by, and where its tests stand, with the facts that stop or open the next one. Without a plan no test stands. */
export async function readBenchStanding(
  tx: Transaction,
  loaded: LoadedStanding,
  now: Date,
): Promise<{ readonly plan: PlanForTests | null; readonly facts: BenchFacts }> {
  const plan = await readPlanOfReturn(tx, loaded, now);
  const { results, waivers } = await readKeptTests(tx, loaded.row.id);
  const since = testRound(loaded.row.moves).testsBeganAt;
  const standings = testStandings(plan?.tests ?? [], results, waivers, { purpose: "finding", since });
  return { plan, facts: await readBenchFacts(tx, loaded, "finding", standings) };
}
