import "server-only";
import {
  type PastReturn,
  rankSimilar,
  type Signature,
  type SimilarReturn,
  type WhatSolved,
  whatSolved,
} from "@/lib/bench-tests/similar-returns";
import { operationOf, readOperation } from "@/lib/repair/operations";
import type { Transaction } from "./database";

/** Newest decided returns looked at for each likeness: more would push an old one up a list nobody reads to its end. */
const MOST_LOOKED_AT = 400;
const MOST_SHOWN = 8;

export interface SimilarReturns {
  readonly shown: readonly SimilarReturn[];
  /** How many are alike at all, of how many decided ones that were looked at. */
  readonly alike: number;
  readonly lookedAt: number;
  readonly solved: readonly WhatSolved[];
}

const signatureSelect = {
  reference: true,
  symptom: true,
  pack: {
    select: {
      revision: { select: { code: true } },
      lots: { select: { lot: { select: { kind: true, code: true } } } },
    },
  },
  readingFile: { select: { findings: { select: { fault: true, confidence: true } } } },
  faultCodings: { orderBy: { version: "desc" }, take: 1, select: { fault: true } },
} as const;

/** Decided returns of the same pack model like this one, with what solved them. */
export async function readSimilarReturns(tx: Transaction, returnId: string): Promise<SimilarReturns> {
  const row = await tx.return.findUniqueOrThrow({
    where: { id: returnId },
    select: {
      ...signatureSelect,
      packId: true,
      pack: {
        select: { ...signatureSelect.pack.select, revision: { select: { id: true, code: true, modelId: true } } },
      },
    },
  });
  const current = signatureOf(row);
  const { revision, lots } = row.pack;
  const rows = await tx.return.findMany({
    where: {
      id: { not: returnId },
      decisionId: { not: null },
      pack: { revision: { modelId: revision.modelId } },
      OR: [
        { pack: { lots: { some: { lot: { code: { in: lots.map(({ lot }) => lot.code) } } } } } },
        { readingFile: { findings: { some: { fault: { in: current.faults.map(({ fault }) => fault) } } } } },
        { decision: { confirmedFault: { in: current.faults.map(({ fault }) => fault) } } },
      ],
    },
    orderBy: { lodgedAt: "desc" },
    take: MOST_LOOKED_AT,
    select: {
      ...signatureSelect,
      lodgedAt: true,
      decision: {
        select: {
          remedy: true,
          confirmedFault: true,
          reason: true,
          decidedAt: true,
          workEntries: { where: { struck: null }, select: { operation: true }, orderBy: { at: "asc" } },
        },
      },
      pack: { select: { ...signatureSelect.pack.select, returns: { select: { lodgedAt: true } } } },
    },
  });
  const past = rows.flatMap(({ decision, lodgedAt, ...one }): PastReturn[] =>
    decision === null
      ? []
      : [
          {
            ...signatureOf(one),
            reference: one.reference,
            decidedAt: decision.decidedAt,
            remedy: decision.remedy,
            confirmedFault: decision.confirmedFault,
            reason: decision.reason,
            work: [
              ...new Set(decision.workEntries.map(({ operation }) => operationOf(readOperation(operation)).label)),
            ],
            cameBack: one.pack.returns.some((other) => other.lodgedAt > lodgedAt),
          },
        ],
  );
  const alike = rankSimilar(current, past);
  return {
    shown: alike.slice(0, MOST_SHOWN),
    alike: alike.length,
    lookedAt: past.length,
    solved: whatSolved(alike),
  };
}

interface SignatureRow {
  readonly symptom: string;
  readonly pack: {
    readonly revision: { readonly code: string };
    readonly lots: readonly { readonly lot: { readonly kind: string; readonly code: string } }[];
  };
  readonly readingFile: {
    readonly findings: readonly { readonly fault: string; readonly confidence: number }[];
  } | null;
  readonly faultCodings: readonly { readonly fault: string }[];
}

function signatureOf({ symptom, pack, readingFile, faultCodings }: SignatureRow): Signature {
  const coded = faultCodings.flatMap(({ fault }) => (fault === "unknown" ? [] : [{ fault, confidence: 1 }]));
  const codedFaults = coded.map(({ fault }) => fault);
  const read = (readingFile?.findings ?? []).filter(({ fault }) => !codedFaults.includes(fault));
  return {
    faults: [...coded, ...read],
    revisionCode: pack.revision.code,
    lots: pack.lots.map(({ lot }) => lot),
    symptom,
  };
}
