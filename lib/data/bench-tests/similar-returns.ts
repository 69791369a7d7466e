import "server-only";
import {
  comebackOf,
  type FittedLot,
  type LaterReturn,
  lotsInPackOn,
  type PastReturn,
  rankSimilar,
  type Signature,
  type SimilarReturn,
  type WhatSolved,
  whatSolved,
} from "@/lib/bench-tests/similar-returns";
import { operationOf, readOperation } from "@/lib/repair/operations";
import { decidedStatuses, type ReturnStatus, readReturnStatus } from "@/lib/returns/return-status";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromOptionalDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";

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

/** Remedies that were carried out, and of a pack that stands decided: the status says both. */
const carriedOutStatuses = ["handed-back", "closed", "solved-remotely"] as const satisfies readonly ReturnStatus[];
const laterSelect = { lodgedAt: true, status: true, decision: { select: { confirmedFault: true } } } as const;

const signatureSelect = {
  reference: true,
  lodgedAt: true,
  symptom: true,
  pack: {
    select: {
      revision: { select: { code: true } },
      lots: { select: { fittedOn: true, removedOn: true, lot: { select: { kind: true, code: true } } } },
    },
  },
  readingFile: { select: { findings: { select: { fault: true, confidence: true } } } },
  faultCodings: { orderBy: { version: "desc" }, take: 1, select: { fault: true } },
} as const;

/** Decided returns of the same pack model like this one, with what solved them. */
export async function readSimilarReturns(tx: Transaction, returnId: string, now: Date): Promise<SimilarReturns> {
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
  // This pack as it is now: a lot that was taken out makes nothing alike.
  const { revision } = row.pack;
  const lots = row.pack.lots.flatMap(({ lot, removedOn }) => (removedOn === null ? [lot] : []));
  const current = signatureOf(row, lots);
  const rows = await tx.return.findMany({
    where: {
      id: { not: returnId },
      decisionId: { not: null },
      status: { in: [...decidedStatuses] },
      pack: { revision: { modelId: revision.modelId } },
      OR: [
        { pack: { lots: { some: { lot: { code: { in: lots.map(({ code }) => code) } } } } } },
        { readingFile: { findings: { some: { fault: { in: current.faults.map(({ fault }) => fault) } } } } },
        { decision: { confirmedFault: { in: current.faults.map(({ fault }) => fault) } } },
      ],
    },
    orderBy: { lodgedAt: "desc" },
    take: MOST_LOOKED_AT,
    select: {
      ...signatureSelect,
      status: true,
      moves: { where: { move: "hand-back" }, orderBy: { sequence: "desc" }, take: 1, select: { at: true } },
      decision: {
        select: {
          remedy: true,
          confirmedFault: true,
          reason: true,
          decidedAt: true,
          workEntries: { where: { struck: null }, select: { operation: true }, orderBy: { at: "asc" } },
        },
      },
      pack: {
        select: {
          ...signatureSelect.pack.select,
          returns: { select: laterSelect },
          replacedBy: { select: { newPack: { select: { returns: { select: laterSelect } } } } },
        },
      },
    },
  });
  // Days of work on a pack are those of UTC, so the day of the lodging is as well.
  const past = rows.flatMap(({ decision, status, moves, ...one }): PastReturn[] => {
    if (decision === null) return [];
    const isCarriedOut = carriedOutStatuses.some((known) => known === status);
    const carriedOutAt = isCarriedOut ? (moves[0]?.at ?? decision.decidedAt) : null;
    const given = decision.remedy === "replace" ? (one.pack.replacedBy?.newPack ?? { returns: [] }) : one.pack;
    return [
      {
        ...signatureOf(one, lotsInPackOn(one.pack.lots.map(readFittedLot), civilDateAt(one.lodgedAt, "UTC"))),
        reference: one.reference,
        decidedAt: decision.decidedAt,
        remedy: decision.remedy,
        confirmedFault: decision.confirmedFault,
        reason: decision.reason,
        work: [...new Set(decision.workEntries.map(({ operation }) => operationOf(readOperation(operation)).label))],
        carriedOutAt,
        comeback: comebackOf(carriedOutAt, given.returns.map(readLater)),
      },
    ];
  });
  const alike = rankSimilar(current, past);
  return {
    shown: alike.slice(0, MOST_SHOWN),
    alike: alike.length,
    lookedAt: past.length,
    solved: whatSolved(alike, now),
  };
}

function readLater({
  lodgedAt,
  status,
  decision,
}: {
  readonly lodgedAt: Date;
  readonly status: string;
  readonly decision: { readonly confirmedFault: string } | null;
}): LaterReturn {
  return { lodgedAt, status: readReturnStatus(status), confirmedFault: decision?.confirmedFault ?? null };
}

interface SignatureRow {
  readonly symptom: string;
  readonly pack: {
    readonly revision: { readonly code: string };
  };
  readonly readingFile: {
    readonly findings: readonly { readonly fault: string; readonly confidence: number }[];
  } | null;
  readonly faultCodings: readonly { readonly fault: string }[];
}

function readFittedLot({
  lot,
  fittedOn,
  removedOn,
}: {
  readonly lot: FittedLot["lot"];
  readonly fittedOn: Date | null;
  readonly removedOn: Date | null;
}): FittedLot {
  return { lot, fittedOn: fromOptionalDateColumn(fittedOn), removedOn: fromOptionalDateColumn(removedOn) };
}

function signatureOf({ symptom, pack, readingFile, faultCodings }: SignatureRow, lots: Signature["lots"]): Signature {
  const coded = faultCodings.flatMap(({ fault }) => (fault === "unknown" ? [] : [{ fault, confidence: 1 }]));
  const codedFaults = coded.map(({ fault }) => fault);
  const read = (readingFile?.findings ?? []).filter(({ fault }) => !codedFaults.includes(fault));
  return {
    faults: [...coded, ...read],
    revisionCode: pack.revision.code,
    lots,
    symptom,
  };
}
