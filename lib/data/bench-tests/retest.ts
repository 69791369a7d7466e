import "server-only";
import { testRound } from "@/lib/bench-tests/test-rounds";
import { type RetestStanding, retestStanding, type TestStanding, testStandings } from "@/lib/bench-tests/test-standing";
import type { Transaction } from "../database";
import type { LoadedStanding } from "../returns/return-standing";
import { readKeptTests } from "./bench-test-facts";
import { readPlanInForce } from "./test-plan-rows";

export interface Retest {
  readonly planId: string;
  readonly planVersion: number;
  /** The tests of the plan, each with where it stands by the limits of a new build. */
  readonly standings: readonly TestStanding[];
  readonly standing: RetestStanding;
}

/**
 * Where the re-test of a worked-on pack stands: by the limits of a new build, from results made since the last work on it,
 * by the plan the pack came to the bench under. Null where no approved plan holds.
 */
export async function readRetest(
  tx: Transaction,
  { row }: LoadedStanding,
  lastWorkAt: Date | null,
  now: Date,
): Promise<Retest | null> {
  const { revision } = row.pack;
  const codes = { revisionCode: revision.code, modelCode: revision.model.code };
  const plan = await readPlanInForce(tx, codes, testRound(row.moves).testsBeganAt ?? now);
  if (plan === null) return null;
  const { results } = await readKeptTests(tx, row.id);
  const standings = testStandings(plan.tests, results, [], { purpose: "retest", since: lastWorkAt });
  return { planId: plan.id, planVersion: plan.version, standings, standing: retestStanding(standings) };
}
