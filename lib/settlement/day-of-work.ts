import type { WorkClaimed } from "./owed-for";

/** When what may be claimed for happened, by the history of the return; null where it did not. */
export interface WorkMoments {
  readonly takenInAt: Date;
  readonly sentAt: Date | null;
  readonly receivedAt: Date | null;
  readonly exchangedAt: Date | null;
  readonly helpedAt: Date | null;
}

/**
 * When the work was done that is claimed: its rate is that of this day, not of the day on which somebody comes to claim it. Freight is
 * that of the day the pack set out, where that was recorded. Common practice, no source.
 */
export function momentOfWork({ kind, operation }: WorkClaimed, moments: WorkMoments): Date {
  const { takenInAt, sentAt, receivedAt, exchangedAt, helpedAt } = moments;
  const setOutAt = sentAt ?? receivedAt;
  if (kind === "freight") return setOutAt ?? takenInAt;
  switch (operation) {
    case "pack-for-carrier":
      return setOutAt ?? takenInAt;
    case "exchange":
      return exchangedAt ?? takenInAt;
    case "remote-fix":
      return helpedAt ?? takenInAt;
    default:
      return takenInAt;
  }
}
