import { CalendarDay } from "@/app/_components/calendar-day";
import type { TimeToObject } from "@/lib/returns/told-periods";
import type { CalendarDate } from "@/lib/warranty/calendar";

interface TimeToObjectLineProps {
  readonly time: TimeToObject;
  /** Whose page it stands on: the dealer objects, the house waits for it. */
  readonly whose: "the-dealers" | "own";
}

/** Until when a decision may be objected to, or what its time waits for. */
export function TimeToObjectLine({ time, whose }: TimeToObjectLineProps) {
  const isOwn = whose === "own";
  switch (time.kind) {
    case "nothing-decided":
      return null;
    case "not-begun":
      return (
        <p>
          The time to object, {time.days} days, has not begun: nobody recorded when the customer got the letter, and
          nothing is handed over.{" "}
          {isOwn ? "Record it under “What you can do”." : "Record it on the page of the return."}
        </p>
      );
    case "open":
      return (
        <p>
          <LetterDay on={time.letterGivenOn} />
          {isOwn ? "You may object for the customer" : "The dealer may object"} until{" "}
          <strong>
            <CalendarDay date={time.until} />
          </strong>
          , {isOwn ? "under “What you can do”" : "on the page of the return"}; somebody who did not propose the decision
          looks at it then. Legal rights against the seller are not affected.
        </p>
      );
    case "over":
      return (
        <p>
          <LetterDay on={time.letterGivenOn} />
          The time to object ended on <CalendarDay date={time.until} />. Legal rights against the seller are not
          affected.
        </p>
      );
    case "solved":
      return (
        <p>
          {time.isOver
            ? "The time to open it again, had it not lasted, ended on "
            : "If it does not last, it is opened again until "}
          <CalendarDay date={time.until} />.
        </p>
      );
  }
}

function LetterDay({ on }: { readonly on: CalendarDate | null }) {
  return on === null ? null : (
    <>
      The customer got the letter on <CalendarDay date={on} />.{" "}
    </>
  );
}
