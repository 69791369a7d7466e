import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { NoticeLanguage } from "@/lib/notices/notice-kinds";
import { readReturnReference } from "@/lib/returns/return-reference";
import { coverFactsSchema } from "@/lib/warranty/cover-facts.schema";
import { deliveryDay } from "@/lib/warranty/legal-clock";
import { sayCounsel } from "@/lib/warranty/legal-duty";
import {
  type ConsumerChoice,
  dutyBeforeRemedy,
  type LegalPrompt,
  type LegalPromptKind,
  missingPrompts,
  promptsBeforeRemedy,
} from "@/lib/warranty/legal-prompts";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromOptionalDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { readLegalDuties } from "./legal-duties-held";

const promptSelect = {
  id: true,
  coverFacts: true,
  coverStartsOn: true,
  coverEvidence: true,
  coverOutcome: true,
  dealer: { select: { country: true } },
  legalNotices: { select: { kind: true, choice: true } },
} as const;

export interface LegalPromptsRead {
  /** ISO 3166-1 alpha-2 of the place whose law was asked. */
  readonly country: string;
  readonly prompts: readonly LegalPrompt[];
  readonly missing: readonly LegalPromptKind[];
  /** Whether counsel confirmed the row that asks for them, or for none. */
  readonly counsel: string;
}

/**
 * What the law asks to be shown before this remedy on a return, and what of it is still missing: the typed facts for the
 * guard of the decision. Runs in the caller's transaction.
 */
export async function readLegalPrompts(
  tx: Transaction,
  returnId: string,
  remedy: { readonly remedy: string; readonly isRefurbished?: boolean },
  now = new Date(),
): Promise<LegalPromptsRead> {
  const row = await tx.return.findUniqueOrThrow({ where: { id: returnId }, select: promptSelect });
  const facts = coverFactsSchema.safeParse(row.coverFacts);
  const country = (facts.success ? facts.data.saleCountry : undefined) ?? row.dealer.country;
  const soldOn = deliveryDay({
    outcome: row.coverOutcome,
    evidence: row.coverEvidence,
    startsOn: fromOptionalDateColumn(row.coverStartsOn),
  });
  // What is shown before a remedy is asked of the rows of today, not of the day of the answer on cover.
  const held = { duties: await readLegalDuties(tx), answeredOn: civilDateAt(now, "UTC") };
  const buyerKind = facts.success ? facts.data.buyerKind : undefined;
  const prompts = promptsBeforeRemedy({ country, soldOn, buyerKind, ...remedy }, held);
  const counsel = sayCounsel(dutyBeforeRemedy({ country, soldOn }, held));
  return { country, prompts, missing: missingPrompts(prompts, row.legalNotices), counsel };
}

/**
 * Records that a notice was shown to the consumer, in the words it has today in the language it was shown in, and what they chose. Never changed
 * afterwards. False where it is not theirs to record, or the law of the place of sale asks for no such notice or answer.
 */
export async function recordLegalNotice(
  actor: Actor,
  reference: string,
  shown: {
    readonly kind: LegalPromptKind;
    readonly choice: ConsumerChoice | null;
    readonly language: NoticeLanguage;
  },
  now = new Date(),
): Promise<boolean> {
  const reading = readReturnReference(reference);
  if (reading.kind !== "reference" || !may(actor, "answer-question")) return false;
  return asActor(actor, async (tx) => {
    const found = await tx.return.findUnique({ where: { reference: reading.reference }, select: { id: true } });
    if (found === null) return false;
    // A replacement has every notice that a repair has.
    const { country, prompts } = await readLegalPrompts(tx, found.id, { remedy: "replace", isRefurbished: true }, now);
    const prompt = prompts.find(({ kind }) => kind === shown.kind);
    if (prompt === undefined || (shown.choice !== null && !prompt.choices.includes(shown.choice))) return false;
    await tx.legalNoticeShown.create({
      data: {
        returnId: found.id,
        kind: prompt.kind,
        country,
        textVersion: prompt.textVersion,
        text: prompt.texts[shown.language],
        choice: shown.choice,
        shownAt: now,
        shownByUserId: actor.userId,
        shownByName: actor.name,
      },
    });
    return true;
  });
}
