import { type CoverOutcome, LEGAL_RIGHTS } from "@/lib/warranty/cover";
import type { OtherClocks } from "@/lib/warranty/three-clocks";
import { CalendarDay } from "./calendar-day";
import { FactList } from "./fact-list";
import { OtherClocksPart } from "./other-clocks-part";
import { Stamp, type StatusTone } from "./status-line";

interface CoverAnswerProps {
  readonly cover: {
    readonly outcome: CoverOutcome;
    readonly startsOn: string | null;
    readonly endsOn: string | null;
    readonly policyVersion: string;
    readonly because: readonly string[];
    readonly wouldChange: readonly string[];
    readonly clocks: OtherClocks;
  };
}

const outcomes: Readonly<Record<CoverOutcome, { words: string; tone: StatusTone }>> = {
  "in-cover": { words: "Covered by the maker's guarantee", tone: "good" },
  "in-cover-by-grace": { words: "Covered, within the days of grace", tone: "good" },
  "covered-by-field-action": { words: "Covered by a field action of the maker", tone: "good" },
  "outside-makers-guarantee": { words: "Outside the maker's guarantee", tone: "warn" },
  "cannot-tell-yet": { words: "Cover cannot be told yet", tone: "plain" },
};

/** The cover with its reasons, its dates and the rule it went by; never the word alone. */
export function CoverAnswer({ cover }: CoverAnswerProps) {
  const { words, tone } = outcomes[cover.outcome];
  const reasons = cover.because.filter((sentence) => sentence !== LEGAL_RIGHTS);
  return (
    <div className="space-y-3">
      <h3 className="caption-print">The maker's guarantee</h3>
      <p>
        <Stamp tone={tone}>{words}</Stamp>
      </p>
      <ul className="list-disc space-y-1 pl-5">
        {reasons.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      <FactList
        facts={[
          { term: "Starts", detail: cover.startsOn === null ? "Not known yet" : <CalendarDay date={cover.startsOn} /> },
          {
            term: "Ends, that day included",
            detail: cover.endsOn === null ? "Not known yet" : <CalendarDay date={cover.endsOn} />,
          },
          { term: "Rule it was computed by", detail: cover.policyVersion },
        ]}
      />
      {cover.wouldChange.length === 0 ? null : (
        <details>
          <summary className="min-h-11 cursor-pointer py-2 font-semibold">What would change this answer</summary>
          <ul className="list-disc space-y-1 pl-5">
            {cover.wouldChange.map((sentence) => (
              <li key={sentence}>{sentence}</li>
            ))}
          </ul>
        </details>
      )}
      {/* Said every time, whatever the outcome: the maker's guarantee is only one of the customer's rights. */}
      <p className="font-semibold">{LEGAL_RIGHTS}</p>
      <OtherClocksPart clocks={cover.clocks} />
    </div>
  );
}
