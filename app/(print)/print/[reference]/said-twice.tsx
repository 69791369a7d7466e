import { noticeLanguageOf } from "@/lib/notices/notice-kinds";
import { notChecked, sayAlso } from "@/lib/transport/said-also";
import type { SheetLanguages } from "@/lib/transport/who-packs";

interface SaidTwiceProps {
  readonly english: string;
  /** Country of the dealer who sends or gets the pack. */
  readonly country: string;
  /** Where the paper has no room for both, the one that the packing hand reads: the dealer's only where there is one. */
  readonly languages?: SheetLanguages;
  /** Said twice within one line, where it stands before something to be read with it. */
  readonly inOneLine?: boolean;
}

/** A sentence as it was approved, and below it in the dealer's language, where that is another and somebody translated it. */
export function SaidTwice({ english, country, languages = "both", inOneLine = false }: SaidTwiceProps) {
  const language = noticeLanguageOf(null, country);
  const also = sayAlso(language, english);
  if (also === null || languages === "english-alone") return english;
  if (languages === "dealers-alone") return <span lang={language}>{also}</span>;
  return (
    <>
      {english}
      {inOneLine ? " " : null}
      <span lang={language} className={inOneLine ? "sheet-also-inline" : "sheet-also"}>
        {also}
      </span>
    </>
  );
}

/** Below what stands in the dealer's language: that nobody has checked it yet, and where the words that count stand. */
export function NotChecked({ country, languages = "both" }: Omit<SaidTwiceProps, "english" | "inOneLine">) {
  const language = noticeLanguageOf(null, country);
  const also = sayAlso(language, languages === "dealers-alone" ? notChecked.alone : notChecked.beside);
  if (also === null || languages === "english-alone") return null;
  return (
    <p lang={language} className="sheet-source">
      {also}
    </p>
  );
}
