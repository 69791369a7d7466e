import { markedLines } from "@/app/_components/marked-lines";
import { MarkedList } from "@/app/_components/marked-list";
import { countryName } from "@/lib/transport/country-name";
import type { SourcedText } from "@/lib/transport/sourced-text";
import { sayWrittenHolidayRule } from "@/lib/warranty/say-holiday-rule";

interface HolidayListProps {
  readonly country: string;
  readonly holidays: readonly { readonly rule: string; readonly name: SourcedText }[];
  /** Whoever approves a list reads it first. */
  readonly isProposed: boolean;
}

/** The holidays of one version. Those that come from one source are told it once, above them. */
export function HolidayList({ country, holidays, isProposed }: HolidayListProps) {
  const lines = markedLines(
    holidays.map(({ rule, name }) => ({ ...name, text: `${name.text}: ${sayWrittenHolidayRule(rule)}` })),
  );
  const [first] = lines;
  const isOneSource = first !== undefined && lines.every(({ mark }) => mark === first.mark);
  return (
    <details className="space-y-2" open={isProposed}>
      <summary className="min-h-11 cursor-pointer py-2 font-semibold">
        {countryName(country)}: {holidays.length === 1 ? "1 holiday" : `${holidays.length} holidays`} a year
      </summary>
      {isOneSource ? (
        <>
          <p className={first.unverified ? "font-semibold text-warn" : "text-soft"}>All of these [{first.mark}]</p>
          <ul className="list-disc space-y-1 pl-5">
            {lines.map(({ text }) => (
              <li key={text}>{text}</li>
            ))}
          </ul>
        </>
      ) : (
        <MarkedList lines={lines} />
      )}
    </details>
  );
}
