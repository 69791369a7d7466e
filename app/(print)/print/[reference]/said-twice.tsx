import { noticeLanguageOf } from "@/lib/notices/notice-kinds";
import { sayAlso } from "@/lib/transport/said-also";

interface SaidTwiceProps {
  readonly english: string;
  /** Country of the dealer whose hand reads the sheet. */
  readonly country: string;
}

/** A sentence as it was approved, and below it in the dealer's language, where that is another and somebody translated it. */
export function SaidTwice({ english, country }: SaidTwiceProps) {
  const language = noticeLanguageOf(null, country);
  const also = sayAlso(language, english);
  if (also === null) return english;
  return (
    <>
      {english}
      <span lang={language} className="sheet-also">
        {also}
      </span>
    </>
  );
}
