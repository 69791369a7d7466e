import { noticeLanguageOf } from "@/lib/notices/notice-kinds";
import { sayAlso } from "@/lib/transport/said-also";

interface SaidTwiceProps {
  readonly english: string;
  /** Country of the dealer whose hand reads the sheet. */
  readonly country: string;
  /** Where the paper has no room for both: the dealer's language alone, where there is one. */
  readonly isSmall?: boolean;
}

/** A sentence as it was approved, and below it in the dealer's language, where that is another and somebody translated it. */
export function SaidTwice({ english, country, isSmall = false }: SaidTwiceProps) {
  const language = noticeLanguageOf(null, country);
  const also = sayAlso(language, english);
  if (also === null) return english;
  if (isSmall) return <span lang={language}>{also}</span>;
  return (
    <>
      {english}
      <span lang={language} className="sheet-also">
        {also}
      </span>
    </>
  );
}
