import "server-only";
import type { Transaction } from "../database";

export interface CodingView {
  readonly version: number;
  readonly customerSaw: string;
  readonly found: string;
  readonly part: string;
  readonly cause: string;
  readonly groups: readonly number[];
  readonly fault: string;
  readonly howSure: string;
  readonly note: string;
  readonly byName: string;
  readonly at: Date;
  /** Coded before the pack came to the bench again: it says nothing for the decision to come. */
  readonly isEarlierRound: boolean;
}

export interface CodingPart {
  /** Newest first. */
  readonly versions: readonly CodingView[];
  /** What the dealer chose, and what the readings point to: beside the fields, never in them. */
  readonly symptom: string;
  readonly findings: readonly { readonly fault: string; readonly confidence: number }[];
}

export async function readCodingPart(tx: Transaction, returnId: string, since: Date | null): Promise<CodingPart> {
  const row = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: {
      symptom: true,
      faultCodings: { orderBy: { version: "desc" } },
      readingFile: {
        select: { findings: { orderBy: { rank: "asc" }, take: 3, select: { fault: true, confidence: true } } },
      },
    },
  });
  return {
    versions: row.faultCodings.map(({ id: _, returnId: __, byUserId: ___, ...coding }) => ({
      ...coding,
      isEarlierRound: since !== null && coding.at < since,
    })),
    symptom: row.symptom,
    findings: row.readingFile?.findings ?? [],
  };
}
