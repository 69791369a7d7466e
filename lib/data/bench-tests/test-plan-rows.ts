import "server-only";
import { planInForce } from "@/lib/bench-tests/plan-in-force";
import { type TestDefinition, testListSchema } from "@/lib/bench-tests/test-definition.schema";
import type { Transaction } from "../database";

export interface PlanForTests {
  readonly id: string;
  readonly scope: string;
  readonly version: number;
  readonly settledAt: Date;
  readonly tests: readonly TestDefinition[];
}

/** The plan a pack is tested by, as it stood when its tests began; null where neither revision nor model has one. */
export async function readPlanInForce(
  tx: Transaction,
  codes: { readonly revisionCode: string; readonly modelCode: string },
  testsBeganAt: Date,
): Promise<PlanForTests | null> {
  const rows = await tx.testPlan.findMany({
    where: { state: "approved", scope: { in: [codes.revisionCode, codes.modelCode] } },
    select: { id: true, scope: true, version: true, settledAt: true, tests: true },
  });
  const approved = rows.flatMap(({ settledAt, ...row }) => (settledAt === null ? [] : [{ ...row, settledAt }]));
  const plan = planInForce(approved, codes, testsBeganAt);
  return plan === null ? null : { ...plan, tests: testListSchema.parse(plan.tests) };
}
