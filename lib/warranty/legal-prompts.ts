import { type NoticeLanguage, noticeLanguageOf, noticeLanguages } from "@/lib/notices/notice-kinds";
import { unionAndArea } from "@/lib/transport/union-and-area";
import { type CalendarDate, calendarDate } from "./calendar";
import { directiveDutyOn, type HeldDuties, type LegalDuty, legalDutyOn } from "./legal-duty";

export const legalPromptKinds = ["choice-and-extension", "choice-of-remedy", "refurbished-on-request"] as const;
export type LegalPromptKind = (typeof legalPromptKinds)[number];

export const consumerChoices = ["repair", "replacement", "refurbished", "no-choice"] as const;
export type ConsumerChoice = (typeof consumerChoices)[number];

export const consumerChoiceWords: Readonly<Record<ConsumerChoice, string>> = {
  repair: "A repair",
  replacement: "A replacement",
  refurbished: "A refurbished pack, asked for by the customer",
  "no-choice": "The customer leaves it open",
};

/** What must be shown to the consumer, and answered, before a remedy is carried out. */
export interface LegalPrompt {
  readonly kind: LegalPromptKind;
  /** Rises with the words, so that a record says which were shown. */
  readonly textVersion: string;
  readonly texts: Readonly<Record<NoticeLanguage, string>>;
  readonly choices: readonly ConsumerChoice[];
}

/** Drafts, the translations too; to be confirmed by counsel. A language that is not among them is the seller's to give. */
export const legalPromptTexts = {
  "choice-and-extension": {
    textVersion: "draft-2",
    texts: {
      en: "You may choose between repair and replacement, unless the one chosen is impossible or would cost the seller far more than the other. If the pack is repaired, the time in which the seller answers for faults is lengthened once by 12 months. Repair and replacement cost you nothing.",
      de: "Sie können zwischen Reparatur und Ersatz wählen, außer wenn das Gewählte unmöglich ist oder den Verkäufer viel mehr kosten würde als das andere. Wird der Akku repariert, verlängert sich die Zeit, in der der Verkäufer für Mängel einsteht, einmal um 12 Monate. Reparatur und Ersatz kosten Sie nichts.",
      es: "Puede elegir entre reparación y sustitución, salvo que lo elegido sea imposible o cueste al vendedor mucho más que lo otro. Si se repara la batería, el plazo en que el vendedor responde de los defectos se alarga una vez en 12 meses. La reparación y la sustitución no le cuestan nada.",
    },
    choices: ["repair", "replacement", "no-choice"],
  },
  "choice-of-remedy": {
    textVersion: "draft-1",
    texts: {
      en: "You may choose between repair and replacement, unless the one chosen is impossible or would cost the seller far more than the other. Repair and replacement cost you nothing.",
      de: "Sie können zwischen Reparatur und Ersatz wählen, außer wenn das Gewählte unmöglich ist oder den Verkäufer viel mehr kosten würde als das andere. Reparatur und Ersatz kosten Sie nichts.",
      es: "Puede elegir entre reparación y sustitución, salvo que lo elegido sea imposible o cueste al vendedor mucho más que lo otro. La reparación y la sustitución no le cuestan nada.",
    },
    choices: ["repair", "replacement", "no-choice"],
  },
  "refurbished-on-request": {
    textVersion: "draft-2",
    texts: {
      en: "A replacement is a new pack. A refurbished pack is given only if you ask for one yourself.",
      de: "Als Ersatz bekommen Sie einen neuen Akku. Einen aufgearbeiteten Akku bekommen Sie nur, wenn Sie selbst darum bitten.",
      es: "La sustitución es por una batería nueva. Una batería reacondicionada se entrega solo si usted mismo la pide.",
    },
    choices: ["refurbished", "no-choice"],
  },
} as const satisfies Record<LegalPromptKind, Omit<LegalPrompt, "kind">>;

/** The languages a notice can be shown in, the usual one of the place of sale first. */
export function languagesFirstOf(country: string): readonly [NoticeLanguage, ...NoticeLanguage[]] {
  const usual = noticeLanguageOf(null, country);
  return [usual, ...noticeLanguages.filter((language) => language !== usual)];
}

export interface RemedyFacts {
  readonly country: string;
  readonly soldOn: CalendarDate | null;
  readonly buyerKind?: string | undefined;
  readonly remedy: string;
  readonly isRefurbished?: boolean | undefined;
}

/**
 * Remedies before which the consumer is told of the choice. What is put right at the dealer's is a repair, and money back may
 * be given only where the choice was there first (Directive (EU) 2019/771, Art. 13; to be confirmed by counsel).
 */
const PUTS_RIGHT: readonly string[] = ["repair", "replace", "remote-fix", "refund"];

/**
 * The prompts that must be shown before this remedy. Where the day of sale is not known the consumer is told, because
 * telling too much harms nobody, and so is one in a state of the Union or its economic area whose own law is not held here;
 * a business buyer is not prompted.
 */
export function promptsBeforeRemedy(
  { country, soldOn, buyerKind, remedy, isRefurbished }: RemedyFacts,
  held: HeldDuties,
): LegalPrompt[] {
  if (buyerKind === "business" || !PUTS_RIGHT.includes(remedy)) return [];
  const duty = dutyBeforeRemedy({ country, soldOn }, held);
  if (duty === null) return [];
  const kinds: LegalPromptKind[] = [
    ...(duty.informBeforeRemedy
      ? (["choice-and-extension"] as const)
      : duty.consumerChooses
        ? (["choice-of-remedy"] as const)
        : []),
    ...(duty.refurbishedOnRequest && isRefurbished && remedy === "replace"
      ? (["refurbished-on-request"] as const)
      : []),
  ];
  return kinds.map((kind) => ({ kind, ...legalPromptTexts[kind] }));
}

/** The row that says whether a consumer is prompted; null where none is held. */
export function dutyBeforeRemedy(
  { country, soldOn }: Pick<RemedyFacts, "country" | "soldOn">,
  held: HeldDuties,
): LegalDuty | null {
  const on = soldOn ?? FAR_FUTURE;
  return legalDutyOn(country, on, held) ?? (unionAndArea.includes(country) ? directiveDutyOn(on, held) : null);
}

export interface ShownPrompt {
  readonly kind: string;
  readonly choice: string | null;
}

/** What the customer chose last between repair and replacement, the newest record first; null where nothing was answered. */
export function lastChoice(shown: readonly ShownPrompt[]): ConsumerChoice | null {
  const answered = shown.find(
    ({ kind, choice }) => (kind === "choice-and-extension" || isAskedOnly(kind)) && choice !== null,
  );
  return consumerChoices.find((known) => known === answered?.choice) ?? null;
}

/** The choice of a law that gives it and asks for no notice: it is asked and kept, and holds no remedy up. */
export function isAskedOnly(kind: string): boolean {
  return kind === "choice-of-remedy";
}

/** What still stands in the way of a remedy: prompts not shown, and a refurbished pack nobody asked for. For the guard of the decision. */
export function missingPrompts(prompts: readonly LegalPrompt[], shown: readonly ShownPrompt[]): LegalPromptKind[] {
  return prompts
    .filter(({ kind }) => {
      if (isAskedOnly(kind)) return false;
      const records = shown.filter((record) => record.kind === kind);
      return kind === "refurbished-on-request"
        ? !records.some(({ choice }) => choice === "refurbished")
        : records.length === 0;
    })
    .map(({ kind }) => kind);
}

/** A day after every row of the table: the newest law counts where the sale is not known. */
const FAR_FUTURE = calendarDate("2199-12-31");
