import { wordsDe } from "@/lib/letters/words-de";
import { wordsEn } from "@/lib/letters/words-en";
import { wordsEs } from "@/lib/letters/words-es";
import type { NoticeLanguage } from "./notice-kinds";

/** An early signal as a notice tells of it. */
export interface ToldSignal {
  /** The fault as decisions name it; null for all faults together. */
  readonly fault: string | null;
  /** Confirmed failures, and how many were to be expected by then. */
  readonly observed: number;
  readonly expected: number;
}

interface SignalWords {
  readonly faults: Readonly<Record<string, string>>;
  readonly together: string;
  readonly told: string;
  readonly locale: string;
}

const words: Readonly<Record<NoticeLanguage, SignalWords>> = {
  en: {
    faults: wordsEn.faults,
    together: "all faults together",
    told: "{fault}: {observed} failures where {expected} were to be expected",
    locale: "en-GB",
  },
  de: {
    faults: wordsDe.faults,
    together: "alle Fehler zusammen",
    told: "{fault}: {observed} Ausfälle, wo {expected} zu erwarten waren",
    locale: "de-DE",
  },
  es: {
    faults: wordsEs.faults,
    together: "todos los fallos juntos",
    told: "{fault}: {observed} fallos donde cabía esperar {expected}",
    locale: "es-ES",
  },
};

/** Which faults, how many failures of each and how many were to be expected, in one clause: "a weak cell group: 9 failures where 2.4 were ...". */
export function saySignals(language: NoticeLanguage, signals: readonly ToldSignal[]): string {
  const { faults, together, told, locale } = words[language];
  const decimal = new Intl.NumberFormat(locale, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
  return signals
    .map(({ fault, observed, expected }) =>
      told
        .replace("{fault}", fault === null ? together : (faults[fault] ?? fault.replaceAll("-", " ")))
        .replace("{observed}", new Intl.NumberFormat(locale).format(observed))
        .replace("{expected}", decimal.format(expected)),
    )
    .join("; ");
}
