import type { WatchTask } from "./watch-readings";

/**
 * A measurement that nobody takes is told of again after so many hours, until it is. Engineering default, no source: half a shift, so
 * that whoever comes on duty hears of it, and nobody's call is worn out while the pack is being fetched. A constant and no dated
 * setting, because nothing that is kept or promised is worked out from it.
 */
const CALL_AGAIN_HOURS = 4;

const HOUR_MS = 3_600_000;

/** A measurement whose time is over, and how often that has to have been told by now, counted from 1. */
export interface OverdueCall {
  readonly afterHours: number;
  readonly call: number;
  /** Told so often without an answer, it is no longer the bench's alone. */
  readonly isForSafety: boolean;
}

/**
 * What has to be told of a pack in quarantine: the first of its measurements that is overdue, however many are. It is told until it
 * is measured, the watch is begun anew or the pack leaves; from the second time on the safety officer hears it too.
 */
export function overdueCall(tasks: readonly WatchTask[], now: Date): OverdueCall | null {
  const task = tasks.find(({ state }) => state === "overdue");
  if (task === undefined) return null;
  const call = 1 + Math.floor((now.getTime() - task.overdueFrom.getTime()) / (CALL_AGAIN_HOURS * HOUR_MS));
  return { afterHours: task.afterHours, call, isForSafety: call > 1 };
}
