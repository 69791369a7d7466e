import "server-only";
import { planInForce } from "@/lib/bench-tests/plan-in-force";
import { testListSchema } from "@/lib/bench-tests/test-definition.schema";
import { type RetestStanding, retestStanding, type TestStanding, testStandings } from "@/lib/bench-tests/test-standing";
import { verdicts } from "@/lib/bench-tests/verdict";
import type { Transaction } from "./database";

export interface Retest {
  readonly planVersion: number;
  /** The tests of the plan, each with where it stands by the limits of a new build. */
  readonly standings: readonly TestStanding[];
  readonly standing: RetestStanding;
}

/**
 * Where the re-test of a worked-on pack stands: by the limits of a new build, from results made since the last work on it,
 * by the plan that holds now. Null where no approved plan does.
 */
export async function readRetest(
  tx: Transaction,
  { returnId, lastWorkAt, now }: { readonly returnId: string; readonly lastWorkAt: Date | null; readonly now: Date },
): Promise<Retest | null> {
  const { pack } = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: { pack: { select: { revision: { select: { code: true, model: { select: { code: true } } } } } } },
  });
  const codes = { revisionCode: pack.revision.code, modelCode: pack.revision.model.code };
  const rows = await tx.testPlan.findMany({
    where: { state: "approved", scope: { in: [codes.revisionCode, codes.modelCode] } },
    select: { scope: true, version: true, settledAt: true, tests: true },
  });
  const approved = rows.flatMap(({ settledAt, ...row }) => (settledAt === null ? [] : [{ ...row, settledAt }]));
  const plan = planInForce(approved, codes, now);
  if (plan === null) return null;
  const results = await tx.testResult.findMany({
    where: { returnId, purpose: "retest" },
    select: { id: true, testKey: true, verdict: true, correctsId: true, at: true },
    orderBy: { at: "asc" },
  });
  const kept = results.map(({ verdict, ...result }) => ({
    ...result,
    purpose: "retest" as const,
    verdict: readVerdict(verdict),
  }));
  const since = { purpose: "retest", since: lastWorkAt } as const;
  const standings = testStandings(testListSchema.parse(plan.tests), kept, [], since);
  return { planVersion: plan.version, standings, standing: retestStanding(standings) };
}

function readVerdict(stored: string) {
  const verdict = verdicts.find((known) => known === stored);
  if (verdict === undefined) throw new RangeError(`verdict: ${stored} is unknown`);
  return verdict;
}
