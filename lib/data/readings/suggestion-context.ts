import "server-only";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import { type CalendarDate, daysBetween } from "@/lib/warranty/calendar";
import type { Cover } from "@/lib/warranty/cover";
import type { Transaction } from "../database";
import { inUseSince, type PackFacts } from "../packs/pack-facts";
import { checkReturnedPack } from "../packs/revision-checks";

/**
 * What the suggestion needs to know besides the readings. Cover is null while the form is unsent. Give it a system
 * transaction: the lots and known issues behind the choice of a replacement are the house's, and only yes or no comes out.
 */
export async function readSuggestionContext(
  tx: Transaction,
  pack: PackFacts,
  today: CalendarDate,
  cover: Pick<Cover, "outcome"> | null,
): Promise<SuggestionContext> {
  const { replacement } = await checkReturnedPack(tx, {
    packId: pack.packId,
    revisionCode: pack.revision.code,
    lotCodes: pack.lotCodes,
    findings: [],
  });
  const since = inUseSince(pack);
  const ageDays = since === null ? null : daysBetween(since, today);
  return {
    potted: pack.revision.potted,
    cellsRepairable: pack.revision.cellsRepairable,
    compatibleReplacementKnown: replacement.kind === "may-replace",
    ...(ageDays === null || ageDays < 0 ? {} : { ageDays }),
    ...(cover === null ? {} : { cover: coverWords[cover.outcome] }),
  };
}

const coverWords = {
  "in-cover": "covered",
  "covered-by-field-action": "covered",
  "in-cover-by-grace": "covered",
  "outside-makers-guarantee": "not covered",
  "cannot-tell-yet": "unknown",
} as const satisfies Readonly<Record<Cover["outcome"], SuggestionContext["cover"]>>;
