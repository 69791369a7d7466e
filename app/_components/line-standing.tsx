import { type LineState, lineStateWords } from "@/lib/settlement/line-moves";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";

interface LineStandingProps {
  readonly line: {
    readonly state: LineState;
    readonly isReversed: boolean;
    readonly isReversalOpen: boolean;
    readonly statementNumber: number | null;
    readonly reason: string;
    readonly rateFrom: string | null;
  };
}

/** Where a line of money stands, with its reason and the day of its rate. */
export function LineStanding({ line }: LineStandingProps) {
  const { state, isReversed, isReversalOpen, statementNumber, reason, rateFrom } = line;
  const notes = [
    isReversed ? "Reversed by a later line." : isReversalOpen ? "A reversal is claimed and not approved yet." : "",
    statementNumber === null ? "" : `Statement ${statementNumber}.`,
    reason,
    rateFrom !== null && isCalendarDate(rateFrom) ? `Rate of ${sayDate(rateFrom)}.` : "",
  ].filter((note) => note !== "");
  return (
    <>
      <strong>{lineStateWords[state]}.</strong> <span className="text-soft">{notes.join(" ")}</span>
    </>
  );
}
