import { sayMeasured, sayNumber } from "@/lib/bench-tests/verdict";
import type { NoticeLanguage } from "@/lib/notices/notice-kinds";
import { fillWords } from "./fill-words";
import type { TestVerdict } from "./letter";
import { letterWords } from "./letter-words";

/** A test at the bench as a letter tells it. */
export interface TestTold {
  /** As the test plan names it, in English. */
  readonly title: string;
  readonly verdict: TestVerdict;
  /** Null where somebody looked and measured nothing. */
  readonly measured: {
    readonly value: number;
    /** Coverage factor 2, in the unit of the value. */
    readonly expandedUncertainty: number;
    readonly unit: string;
    readonly lower: number | null;
    readonly upper: number | null;
    readonly instrument: string;
  } | null;
  /** The instrument was found to be off afterwards. */
  readonly isInDoubt: boolean;
}

/** One test as a line of a letter: its value with its uncertainty, the limits, the instrument, and how it was judged. */
export function tellTest(language: NoticeLanguage, { title, verdict, measured, isInDoubt }: TestTold): string {
  const { finding: words } = letterWords[language];
  if (measured === null) return `${title}: ${words.looks[verdict]}.`;
  const { value, expandedUncertainty, unit, lower, upper, instrument } = measured;
  const inLanguage = (shown: number) => shown.toLocaleString(language, { maximumFractionDigits: 6 });
  const number = (shown: number) => inLanguage(Number(sayNumber(shown)));
  const line = fillWords(words.measured, {
    test: title,
    value: `${sayMeasured({ value, expandedUncertainty }, inLanguage)} ${unit}`,
    limits: limitsIn(lower, upper),
    instrument,
    verdict: words.verdicts[verdict],
  });
  return isInDoubt ? `${line} ${words.inDoubt}` : line;

  function limitsIn(least: number | null, most: number | null): string {
    const said = (limit: number | null) => (limit === null ? "" : `${number(limit)} ${unit}`);
    if (least !== null && most !== null)
      return fillWords(words.limits.between, { lower: number(least), upper: said(most) });
    return least === null
      ? fillWords(words.limits.most, { upper: said(most) })
      : fillWords(words.limits.least, { lower: said(least) });
  }
}
