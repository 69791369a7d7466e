import { noticeLanguages, noticeLanguageWords } from "@/lib/notices/notice-kinds";
import type { ToVerify } from "@/lib/transport/to-verify";
import { lawSpokenBeside } from "./legal-clock";
import { type LegalDuty, sayDuty } from "./legal-duty";
import { legalPromptKinds, legalPromptTexts } from "./legal-prompts";
import { refundTerm } from "./refund-term";
import { REFUND_MAY_BE_DUE } from "./repeat-return";

/** What is said of consumer law and was confirmed by no counsel, whatever it was read in. */
export function lawToVerify(duties: readonly LegalDuty[]): ToVerify[] {
  return [
    ...duties
      .filter(({ confirmation }) => confirmation === null)
      .map((duty) => ({
        table: `The seller's legal duty, ${duty.country}`,
        version: `${duty.version}, for sales from ${duty.salesFrom}`,
        sentence: sayDuty(duty),
        mark: `to be confirmed by counsel; ${duty.sources.map(({ named, mark }) => `${named} (${mark})`).join("; ")}`,
      })),
    {
      table: "Refunds",
      version: "this release",
      sentence: `A refund is paid within ${refundTerm.days} days of its being agreed.`,
      mark: `to be confirmed by counsel; ${refundTerm.mark}`,
    },
    ...[...Object.values(lawSpokenBeside), `After an earlier repair: ${REFUND_MAY_BE_DUE}.`].map((sentence) => ({
      table: "Said of the seller's legal duty beside its rows",
      version: "this release",
      sentence,
      mark: "to be confirmed by counsel; from memory: verify in Directive (EU) 2019/771 and the law of the country of sale",
    })),
    ...legalPromptKinds.flatMap((kind) =>
      noticeLanguages.map((language) => ({
        table: `Shown to the consumer before a remedy, in ${noticeLanguageWords[language]}`,
        version: legalPromptTexts[kind].textVersion,
        sentence: legalPromptTexts[kind].texts[language],
        mark: "draft: to be confirmed by counsel, and to be given in the consumer's language",
      })),
    ),
  ];
}
