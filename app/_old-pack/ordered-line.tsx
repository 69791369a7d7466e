import { CalendarDay } from "@/app/_components/calendar-day";
import { LocalTime } from "@/app/_components/local-time";

interface OrderedLineProps {
  readonly ordered: {
    /** Null where nothing is to happen any more. */
    readonly dueOn: string | null;
    readonly isOverdue: boolean;
    readonly why: string;
    readonly orderedAt: Date;
    readonly orderedByName: string;
  };
  /** What was ordered. */
  readonly words: string;
}

/** What was ordered for a pack or for what was given before, by whom and by when. */
export function OrderedLine({ ordered: { dueOn, isOverdue, why, orderedAt, orderedByName }, words }: OrderedLineProps) {
  return (
    <div className="space-y-1">
      <p>
        <strong>{words}</strong>
        {dueOn === null ? null : (
          <>
            ,{" "}
            <span className={isOverdue ? "font-semibold text-warn" : ""}>
              {isOverdue ? "overdue since " : "by "}
              <CalendarDay date={dueOn} />
            </span>
          </>
        )}
        . {dueOn === null ? "Said" : "Ordered"} by {orderedByName}, <LocalTime at={orderedAt} />.
      </p>
      <p dir="auto" className="whitespace-pre-line">
        {why}
      </p>
    </div>
  );
}
