import type { ToVerify } from "@/lib/transport/to-verify";
import { lengthensNothingSentence } from "./legal-clock";
import { type LegalDuty, legalDuties } from "./legal-duties";
import { legalPromptKinds, legalPromptTexts } from "./legal-prompts";
import { refundTerm } from "./refund-term";

/** Everything this program says of consumer law: no row of it is confirmed, whatever it was read in. */
export function lawToVerify(): ToVerify[] {
  return [
    ...legalDuties.map((duty) => ({
      table: `The seller's legal duty, ${duty.country}`,
      version: `for sales from ${duty.validFrom}`,
      sentence: sayDuty(duty),
      mark: `to be confirmed by counsel; ${duty.sources.map(({ named, mark }) => `${named} (${mark})`).join("; ")}`,
    })),
    {
      table: "Refunds",
      version: "this release",
      sentence: `A refund is paid within ${refundTerm.days} days of its being agreed.`,
      mark: `to be confirmed by counsel; ${refundTerm.mark}`,
    },
    ...legalPromptKinds.map((kind) => ({
      table: "Shown to the consumer before a remedy",
      version: legalPromptTexts[kind].textVersion,
      sentence: legalPromptTexts[kind].text,
      mark: "draft: to be confirmed by counsel, and to be given in the consumer's language",
    })),
  ];
}

function sayDuty(duty: LegalDuty): string {
  const { months, insteadOfMonths, burdenMonths, rejectDays, monthsAfterRepair } = duty;
  return [
    months === null
      ? (insteadOfMonths ?? "No fixed time.")
      : `A fault must appear within ${months} months of delivery.`,
    burdenMonths === null ? null : `Within ${burdenMonths} months it is taken to have been there at delivery.`,
    rejectDays === null ? null : `The consumer may reject the goods within ${rejectDays} days.`,
    monthsAfterRepair === 0 ? null : sayLengthening(months, monthsAfterRepair),
    duty.informBeforeRemedy ? "The consumer is told of the choice and of the lengthening before a remedy." : null,
    duty.refurbishedOnRequest ? "A refurbished replacement needs the consumer's own request." : null,
  ]
    .filter((part) => part !== null)
    .join(" ");
}

function sayLengthening(months: number | null, monthsAfterRepair: number): string {
  return months === null
    ? lengthensNothingSentence(monthsAfterRepair)
    : `One repair lengthens the time once by ${monthsAfterRepair} months.`;
}
