import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type Doubt, whyInDoubt } from "@/lib/bench-tests/doubtful-result";
import { type TestPurpose, testListSchema, testPurposes } from "@/lib/bench-tests/test-definition.schema";
import { type ReturnStatus, readReturnStatus } from "@/lib/returns/return-status";
import { asActor, type Transaction } from "../database";
import { readInstruments } from "./instruments";

/** Calibrations whose instrument was found to be off, or could not be checked, when it was looked at next. */
export async function readDoubts(tx: Transaction): Promise<ReadonlyMap<string, Doubt>> {
  return new Map(
    (await readInstruments(tx)).flatMap((instrument) =>
      instrument.calibrations.flatMap(({ id }): [string, Doubt][] => {
        const doubt = whyInDoubt(instrument, id);
        return doubt === null ? [] : [[id, doubt]];
      }),
    ),
  );
}

export interface DoubtfulResult {
  readonly id: string;
  readonly instrumentCode: string;
  readonly reference: string;
  readonly status: ReturnStatus;
  readonly testTitle: string;
  readonly purpose: TestPurpose;
  readonly byName: string;
  readonly at: Date;
  /** The same test was made again since with an instrument nobody doubts. */
  readonly isMadeAgain: boolean;
}

/** Every result that rests on an instrument found to be off afterwards, newest first; null where one may not ask. */
export async function listDoubtfulResults(actor: Actor): Promise<DoubtfulResult[] | null> {
  if (!may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const doubts = await readDoubts(tx);
    if (doubts.size === 0) return [];
    const rows = await tx.testResult.findMany({
      where: { calibrationId: { in: [...doubts.keys()] }, correctedBy: null },
      orderBy: [{ at: "desc" }, { id: "desc" }],
      select: {
        id: true,
        testKey: true,
        purpose: true,
        byName: true,
        at: true,
        calibrationId: true,
        return: { select: { id: true, reference: true, status: true } },
        plan: { select: { tests: true } },
      },
    });
    const later = await tx.testResult.findMany({
      where: { returnId: { in: rows.map((row) => row.return.id) }, calibrationId: { notIn: [...doubts.keys()] } },
      select: { returnId: true, testKey: true, purpose: true, at: true },
    });
    return rows.flatMap(({ calibrationId, plan, return: of, purpose, testKey, ...row }): DoubtfulResult[] => {
      const doubt = calibrationId === null ? undefined : doubts.get(calibrationId);
      const known = testPurposes.find((one) => one === purpose);
      if (doubt === undefined || known === undefined) return [];
      return [
        {
          ...row,
          purpose: known,
          instrumentCode: doubt.instrumentCode,
          reference: of.reference,
          status: readReturnStatus(of.status),
          testTitle: testListSchema.parse(plan.tests).find(({ key }) => key === testKey)?.title ?? testKey,
          isMadeAgain: later.some(
            (one) => one.returnId === of.id && one.testKey === testKey && one.purpose === purpose && one.at > row.at,
          ),
        },
      ];
    });
  });
}
