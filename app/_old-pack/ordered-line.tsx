import { CalendarDay } from "@/app/_components/calendar-day";
import { LocalTime } from "@/app/_components/local-time";
import type { OldPackView } from "@/lib/data/old-pack";
import { oldPackOrderWords } from "@/lib/returns/old-pack";

/** What was ordered for the old pack, by whom and by when. */
export function OrderedLine({ ordered }: { ordered: OldPackView }) {
  const { order, dueOn, isOverdue, why, orderedAt, orderedByName } = ordered;
  return (
    <div className="space-y-1">
      <p>
        <strong>{oldPackOrderWords[order]}</strong>,{" "}
        <span className={isOverdue ? "font-semibold text-warn" : ""}>
          {isOverdue ? "overdue since " : "by "}
          <CalendarDay date={dueOn} />
        </span>
        . Ordered by {orderedByName}, <LocalTime at={orderedAt} />.
      </p>
      <p dir="auto" className="whitespace-pre-line">
        {why}
      </p>
    </div>
  );
}
