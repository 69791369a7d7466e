import "server-only";
import { testListSchema } from "@/lib/bench-tests/test-definition.schema";
import { testRound } from "@/lib/bench-tests/test-rounds";
import { verdicts } from "@/lib/bench-tests/verdict";
import type { TestTold } from "@/lib/letters/tell-test";
import type { Transaction } from "../database";
import { readDoubts } from "./doubtful-results";

/**
 * The tests of a returned pack as a letter tells them: of the last round at the bench, of each test the result that counts,
 * in the order of the plan. Results after work on the pack are no findings and stand in no letter.
 */
export async function readTestsToTell(tx: Transaction, returnId: string): Promise<TestTold[]> {
  const moves = await tx.returnMove.findMany({ where: { returnId }, select: { move: true, at: true } });
  const { testsBeganAt } = testRound(moves);
  const rows = await tx.testResult.findMany({
    where: {
      returnId,
      purpose: "finding",
      correctedBy: null,
      ...(testsBeganAt === null ? {} : { at: { gte: testsBeganAt } }),
    },
    orderBy: [{ at: "asc" }, { id: "asc" }],
    include: {
      plan: { select: { tests: true } },
      calibration: { select: { id: true, instrument: { select: { code: true } } } },
    },
  });
  const newest = new Map(rows.map((row) => [row.testKey, row]));
  const [first] = rows;
  if (first === undefined) return [];
  const doubts = await readDoubts(tx);
  return testListSchema.parse(first.plan.tests).flatMap(({ key, title }): TestTold[] => {
    const row = newest.get(key);
    const verdict = verdicts.find((known) => known === row?.verdict);
    if (row === undefined || verdict === undefined) return [];
    const { value, expandedUncertainty, unit, lower, upper, calibration } = row;
    const isMeasured = value !== null && expandedUncertainty !== null && unit !== null && calibration !== null;
    return [
      {
        title,
        verdict,
        measured: isMeasured
          ? { value, expandedUncertainty, unit, lower, upper, instrument: calibration.instrument.code }
          : null,
        isInDoubt: calibration !== null && doubts.has(calibration.id),
      },
    ];
  });
}
