import "server-only";
import { z } from "zod";
import type { Remedy } from "@/lib/diagnosis/finding";
import { keptCoverage } from "@/lib/diagnosis/kept-coverage";
import { notSeenSchema } from "@/lib/diagnosis/not-seen";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import { findingsToJudge } from "@/lib/diagnosis/stored-finding";
import { suggest } from "@/lib/diagnosis/suggest";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import type { PackModel } from "@/lib/packs/pack-model";
import type { Danger } from "@/lib/returns/danger-signs";
import { suggestionUnderDanger } from "@/lib/returns/suggestion-under-danger";
import type { Transaction } from "../database";
import { storedThresholds } from "./thresholds-in-force";

export interface SuggestionGrounds {
  readonly model: PackModel;
  readonly context: SuggestionContext;
  readonly danger: Danger;
}

/**
 * The readings were judged before the form said what was seen on the pack and whether it is covered: now the suggestion
 * is made anew from the findings as they were stored. To be called before the file is attached, because what was found in
 * an attached file is evidence and the database refuses to change it. Gives the remedy; null where the file has no suggestion.
 */
export async function suggestAnew(
  tx: Transaction,
  fileId: string,
  { model, context, danger }: SuggestionGrounds,
): Promise<Remedy | null> {
  const stored = await tx.suggestion.findUnique({
    where: { readingFileId: fileId },
    select: { missing: true, unseen: true, thresholds: true },
  });
  if (stored === null) return null;
  const rows = await tx.finding.findMany({ where: { readingFileId: fileId }, orderBy: { rank: "asc" } });
  const { suggestConfidence } = settingsForModel({
    ...model,
    // Of the day the file was judged: between that and the form others may have come into force.
    diagnosis: storedThresholds(stored.thresholds),
  }).settings.verdict;
  const plain = suggest(
    findingsToJudge(rows),
    keptCoverage(stored.missing, z.array(notSeenSchema).parse(stored.unseen)),
    suggestConfidence,
    context,
  );
  const { remedy, ruleVersion, ...sentences } = suggestionUnderDanger(plain, danger);
  await tx.suggestion.delete({ where: { readingFileId: fileId }, select: { id: true } });
  await tx.suggestion.create({
    data: {
      readingFileId: fileId,
      remedy,
      ruleVersion,
      reasons: [...sentences.reasons],
      plainReasons: [...sentences.plainReasons],
      wouldChange: [...sentences.wouldChange],
      missing: [...sentences.missing],
      unseen: stored.unseen ?? [],
      thresholds: stored.thresholds ?? {},
    },
    select: { id: true },
  });
  return remedy;
}
