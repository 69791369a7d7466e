import "server-only";
import type { Finding } from "@/lib/diagnosis/finding";
import { dangerTold } from "@/lib/returns/danger-signs";
import { type SuggestionShown, suggestionAsItStands } from "@/lib/returns/suggestion-under-danger";
import type { Prisma } from "@/prisma/generated/client";
import type { Transaction } from "../database";
import { signsFoundAt } from "../transport/transport-evidence";
import { caseJudgedAt, findingOfCase } from "./case-readings";

const select = {
  packId: true,
  lodgedAt: true,
  dangerSigns: true,
  pack: {
    select: {
      build: { select: { caseGapMillimetre: true } },
      returns: { select: { caseReadings: { select: { gapMillimetre: true, readAt: true } } } },
    },
  },
  caseReadings: { select: { gapMillimetre: true, readAt: true } },
  arrivals: { select: { signs: true, arrivedAt: true, settlement: { select: { outcome: true } } } },
  readingFile: {
    select: {
      suggestion: {
        select: { remedy: true, reasons: true, plainReasons: true, wouldChange: true, ruleVersion: true },
      },
    },
  },
} as const satisfies Prisma.ReturnSelect;

export interface SuggestionThatStands {
  readonly suggestion: SuggestionShown | null;
  /** What the readings of the case come to and nobody has judged yet; null where they say nothing. */
  readonly caseFinding: Finding | null;
}

/**
 * What is suggested for a return as it stands, by its newest readings and by all that was found beside them since a named person last
 * judged the pack. Whoever may not read what goods-in and the bench found gets it without that.
 */
export async function readSuggestionThatStands(tx: Transaction, returnId: string): Promise<SuggestionThatStands> {
  const row = await tx.return.findUniqueOrThrow({ where: { id: returnId }, select });
  const judgedAt = await caseJudgedAt(tx, row.packId);
  const isOpen = (at: Date) => judgedAt === null || at > judgedAt;
  const caseFinding = findingOfCase(row, judgedAt);
  const cameIn = row.arrivals.filter(
    ({ arrivedAt, settlement }) => settlement?.outcome !== "other-pack" && isOpen(arrivedAt),
  );
  const told = dangerTold(isOpen(row.lodgedAt) ? row.dangerSigns : []);
  const suggestion = suggestionAsItStands(row.readingFile?.suggestion ?? null, {
    told,
    inHand: signsFoundAt(cameIn),
    ofCase: caseFinding,
  });
  return { suggestion, caseFinding };
}
