import type { NoticeLanguage } from "@/lib/notices/notice-kinds";
import { saidInGerman } from "./said-in-german";
import { saidInSpanish } from "./said-in-spanish";
import type { ToVerify } from "./to-verify";

const tables = { de: saidInGerman, es: saidInSpanish } as const;

/**
 * A sentence of the rules or of a sheet in the dealer's language, to stand beside the English one; null where that is English, or
 * where nobody translated this very sentence: rules that were changed are said in English alone rather than as they were.
 */
export function sayAlso(language: NoticeLanguage, english: string): string | null {
  return language === "en" ? null : (tables[language][english] ?? null);
}

/** Said in the language of a translation wherever one stands: nobody who knows language and rules has read it yet. */
export const notChecked = {
  beside: "This translation was not checked: the English text counts.",
  /** On paper with no room for the English. */
  alone: "This translation was not checked: the English text on A4 or Letter counts.",
} as const;

/** Every translated sentence, for whoever knows both the language and the rules for dangerous goods. */
export function translationsToVerify(): ToVerify[] {
  return Object.entries(tables).flatMap(([language, table]) =>
    Object.entries(table).map(([english, sentence]) => ({
      table: "Sheets and cautions in the dealer's language",
      version: "this release",
      sentence: `${language}: ${sentence}`,
      mark: `translated in this house: verify against “${english}”`,
    })),
  );
}
