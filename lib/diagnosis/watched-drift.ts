import type { Evidence } from "@/lib/diagnosis/evidence";
import { normal95 } from "@/lib/diagnosis/group-dot";
import { inDigits } from "@/lib/diagnosis/wording";

/** How fast a group falls against the median group at rest, mV per day, positive; with one standard error. */
export interface Fall {
  readonly group: number;
  readonly millivoltPerDay: number;
  readonly error: number;
}

/** Groups whose readings are no void, fastest first, over rests of days. Empty without such a rest. */
export function falls({ drift, doubtfulGroups }: Evidence): Fall[] {
  if (drift === null) return [];
  return Array.from(drift.millivoltPerDay, (rate, index) => ({
    group: index + 1,
    millivoltPerDay: -rate,
    error: drift.errorMillivoltPerDay[index] ?? Number.NaN,
  }))
    .filter(({ group, millivoltPerDay }) => Number.isFinite(millivoltPerDay) && !doubtfulGroups.has(group))
    .toSorted((a, b) => b.millivoltPerDay - a.millivoltPerDay);
}

/** Standard errors by which a fall must be known before it is one to watch. Engineering default. */
const sigmas = 2;

/** Faster than a sound group, slower than a fault: to be watched, and the rest repeated. */
export function watchedFalls(evidence: Evidence): Fall[] {
  const { driftWatchMillivoltPerDay, driftMillivoltPerDay } = evidence.settings.verdict;
  return falls(evidence).filter(
    ({ millivoltPerDay, error }) =>
      millivoltPerDay > driftWatchMillivoltPerDay &&
      millivoltPerDay < driftMillivoltPerDay &&
      millivoltPerDay >= sigmas * error,
  );
}

/** "group 7, 0.42 mV per day (95 % limits 0.30 to 0.54)". */
export function sayFall({ group, millivoltPerDay, error }: Fall): string {
  const limits = normal95(millivoltPerDay, error);
  const within = limits === null ? "" : ` (95 % limits ${inDigits(limits[0], 2)} to ${inDigits(limits[1], 2)})`;
  return `group ${group}, ${inDigits(millivoltPerDay, 2)} mV per day${within}`;
}
