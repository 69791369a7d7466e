import "server-only";
import { faults } from "@/lib/diagnosis/finding";
import { readRemedy } from "@/lib/diagnosis/read-remedy";
import type { KnownIssue } from "@/lib/packs/known-issue";
import { type ReplacementChoice, replacementChoice } from "@/lib/packs/replacement-choice";
import { checkRevision, type RevisionCheck } from "@/lib/packs/revision-check";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";

export interface BenchRevisionCheck {
  readonly known: RevisionCheck;
  readonly replacement: ReplacementChoice;
}

/** Known issues of the pack's revision and lots, whether what was found fits one, and what may replace the pack today. */
export async function checkReturnedPack(
  tx: Transaction,
  pack: {
    readonly packId: string;
    readonly revisionCode: string;
    readonly lotCodes: readonly string[];
    readonly findings: readonly { readonly fault: string; readonly confidence: number }[];
  },
): Promise<BenchRevisionCheck> {
  const today = civilDateAt(new Date(), "UTC");
  const issues = await readKnownIssues(tx);
  const revisions = await tx.revision.findMany({ select: { code: true, supersededOn: true } });
  const rows = await tx.revisionReplacement.findMany({
    where: { replaced: { code: pack.revisionCode } },
    select: { note: true, replacement: { select: { code: true } } },
  });
  const lotsOf = await readLotsUnderIssue(
    tx,
    rows.map(({ replacement }) => replacement.code),
    issues,
  );
  return {
    known: checkRevision(
      { ...pack, setNumbers: await readSetsOf(tx, pack.packId, issues) },
      issues,
      pack.findings.flatMap(readFound),
      today,
    ),
    replacement: replacementChoice(
      pack.revisionCode,
      rows.map(({ note, replacement }) => ({
        revisionCode: pack.revisionCode,
        replacedByCode: replacement.code,
        note,
        lotCodes: lotsOf.get(replacement.code) ?? [],
      })),
      revisions.map(({ code, supersededOn }) => ({ code, supersededOn: fromOptionalDateColumn(supersededOn) })),
      issues,
      today,
    ),
  };
}

/** Of the sets that an issue names, those that name the pack. */
async function readSetsOf(tx: Transaction, packId: string, issues: readonly KnownIssue[]): Promise<number[]> {
  const numbers = [...new Set(issues.flatMap(({ setNumber }) => setNumber ?? []))];
  if (numbers.length === 0) return [];
  const rows = await tx.affectedSetPack.findMany({
    where: { packId, set: { number: { in: numbers } } },
    select: { set: { select: { number: true } } },
  });
  return rows.map(({ set }) => set.number);
}

/** Of the lots that an issue names, those that packs of each of these revisions hold today. */
async function readLotsUnderIssue(
  tx: Transaction,
  revisionCodes: readonly string[],
  issues: readonly KnownIssue[],
): Promise<Map<string, string[]>> {
  const lotCodes = [...new Set(issues.flatMap(({ lotCode }) => lotCode ?? []))];
  const held = new Map<string, string[]>();
  for (const lotCode of lotCodes) {
    const revisions = await tx.revision.findMany({
      where: {
        code: { in: [...revisionCodes] },
        packs: { some: { lots: { some: { lot: { code: lotCode }, removedOn: null } } } },
      },
      select: { code: true },
    });
    for (const { code } of revisions) held.set(code, [...(held.get(code) ?? []), lotCode]);
  }
  return held;
}

function readFound({ fault, confidence }: { readonly fault: string; readonly confidence: number }) {
  return faults.filter((known) => known === fault).map((known) => ({ fault: known, confidence }));
}

async function readKnownIssues(tx: Transaction): Promise<KnownIssue[]> {
  const rows = await tx.knownIssue.findMany({
    select: {
      title: true,
      action: true,
      faults: true,
      suggestedRemedy: true,
      openedOn: true,
      closedOn: true,
      stopShip: true,
      revision: { select: { code: true } },
      lot: { select: { code: true } },
      set: { select: { number: true } },
    },
    orderBy: { openedOn: "desc" },
  });
  return rows.map(({ revision, lot, set, ...row }) => ({
    title: row.title,
    action: row.action,
    revisionCode: revision?.code ?? null,
    lotCode: lot?.code ?? null,
    setNumber: set?.number ?? null,
    faults: faults.filter((known) => row.faults.includes(known)),
    suggestedRemedy: readRemedy(row.suggestedRemedy),
    openedOn: fromDateColumn(row.openedOn),
    closedOn: fromOptionalDateColumn(row.closedOn),
    stopShip: row.stopShip,
  }));
}
