import { LocalTime } from "@/app/_components/local-time";
import { Stamp } from "@/app/_components/status-line";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { turnWords } from "@/lib/returns/return-turn";

/** Whose turn it is and until when; a clock that stands still says so. */
export function TurnLine({ next, settled }: { next: BenchReturn["next"]; settled: boolean }) {
  if (settled) return <p className="text-soft">Decided before the steps after a decision were followed here.</p>;
  const { turn, dueAt, isOverdue, pausedMinutesLeft } = next;
  return (
    <div className="space-y-1">
      <p className="flex flex-wrap items-center gap-x-3 gap-y-1">
        <strong>{turnWords[turn]}</strong>
        {dueAt === null ? null : (
          <span>
            due <LocalTime at={dueAt} />
          </span>
        )}
        {isOverdue ? <Stamp tone="warn">Overdue</Stamp> : null}
      </p>
      {pausedMinutesLeft === null ? null : (
        <p className="text-soft">
          The maker&apos;s clock stands still until the dealer answers; {sayLeft(pausedMinutesLeft)}.
        </p>
      )}
    </div>
  );
}

const MINUTES_A_DAY = 24 * 60;

function sayLeft(minutes: number): string {
  if (minutes < 0) return "it had run out before";
  const days = Math.floor(minutes / MINUTES_A_DAY);
  if (days >= 1) return `${days} ${days === 1 ? "day" : "days"} of it are left`;
  return `${Math.floor(minutes / 60)} h of it are left`;
}
