import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Fault } from "@/lib/diagnosis/finding";
import { normal95 } from "@/lib/diagnosis/group-dot";
import type { LeakThresholds } from "@/lib/diagnosis/leak-thresholds";
import { type Fall, isLittleCharge, lostCharge } from "@/lib/diagnosis/lost-charge";
import { inDigits, inTime } from "@/lib/diagnosis/wording";
import { scaledMad } from "@/lib/readings/measure/median";
import type { RestDrift } from "@/lib/readings/measure/rest-drift";

/** Groups whose readings are no void, fastest first, over rests of days. Empty without such a rest. */
export function falls({ drift, doubtfulGroups }: Evidence): Fall[] {
  return drift === null ? [] : fallsOf(drift, doubtfulGroups);
}

function fallsOf(drift: RestDrift, doubtfulGroups: ReadonlySet<number>): Fall[] {
  return Array.from(drift.millivoltPerDay, (rate, index) => ({
    group: index + 1,
    millivoltPerDay: -rate,
    error: drift.errorMillivoltPerDay[index] ?? Number.NaN,
  }))
    .filter(({ group, millivoltPerDay }) => Number.isFinite(millivoltPerDay) && !doubtfulGroups.has(group))
    .toSorted((a, b) => b.millivoltPerDay - a.millivoltPerDay);
}

/**
 * Faster than a sound group, slower than a fault, and of no group whose leak is found: to be watched, and the rest repeated. Few millivolts
 * are faster too where their lower limit is, by the model's own curve, more charge than a sound group loses, and no other group falls alike.
 */
export function watchedFalls(evidence: Evidence, leaking: ReadonlySet<number>): Fall[] {
  const { driftWatchMillivoltPerDay, driftMillivoltPerDay, driftPercentPerDay } = evidence.settings.verdict;
  const { watchSigmas, watchScatters } = evidence.settings.leak;
  const { drift } = evidence;
  const followed = falls(evidence);
  const scatter = scaledMad(followed.map(({ millivoltPerDay }) => millivoltPerDay)) ?? Number.POSITIVE_INFINITY;
  const isMuchCharge = (fall: Fall) => {
    const known = drift === null ? null : (lostCharge(evidence, drift, fall)?.known ?? null);
    const [least] = normal95(fall.millivoltPerDay, fall.error) ?? [0];
    const atLeast = (known?.percentPerDay.estimate ?? 0) * (least / fall.millivoltPerDay);
    return atLeast >= driftPercentPerDay && fall.millivoltPerDay >= watchScatters * scatter;
  };
  return followed.filter(
    (fall) =>
      !leaking.has(fall.group) &&
      fall.millivoltPerDay < driftMillivoltPerDay &&
      fall.millivoltPerDay >= watchSigmas * fall.error &&
      (fall.millivoltPerDay > driftWatchMillivoltPerDay || isMuchCharge(fall)) &&
      !isLittleCharge(evidence, drift, fall),
  );
}

/**
 * Why a leak at the limit would not have shown in rests of days, as half a sentence; null where it would have. A group is known where the
 * limit is so many standard errors, and free of a leak where its upper limit lies under it. Groups whose leak is found hide none.
 */
export function whyLeakHides(evidence: Evidence, leaking: ReadonlySet<number> = new Set()): string | null {
  const { drift, settings } = evidence;
  const limit = settings.verdict.driftMillivoltPerDay;
  const followed = falls(evidence);
  const blurred = followed.filter(({ error }) => !(settings.leak.sigmas * error <= limit));
  const over = drift === null ? "" : `over ${inTime(drift.days * 86400)} of rest`;
  if (blurred.length > 0) {
    const worst = Math.max(...blurred.map(({ error }) => error));
    const known = Number.isFinite(worst)
      ? `is known only to ${inDigits(worst, 1)} mV per day ${over} (one standard error)`
      : `is not known at all, for no voltage ever moved`;
    return `the drift of ${blurred.length} of ${followed.length} groups ${known}, and a leak begins at ${inDigits(limit, 0)}`;
  }
  const open = followed.find(
    (fall) =>
      !leaking.has(fall.group) &&
      (normal95(fall.millivoltPerDay, fall.error)?.[1] ?? limit) >= limit &&
      !isLittleCharge(evidence, drift, fall),
  );
  return open === undefined
    ? null
    : `group ${open.group} falls by ${sayPace(open)} ${over}, and a leak begins at ${inDigits(limit, 0)}`;
}

/** Whether a balancer may be what lowers a group: it stands no lower than the others at the end, and no command of one was logged. */
export function mayBeBled({ survey, settings }: Evidence, drift: RestDrift, group: number): boolean {
  const end = drift.endMillivolt[group - 1] ?? 0;
  return survey.log.balancingMask === null && end > settings.verdict.balancedAboveMillivolt;
}

/** A balancer stops where it has done its work, a leak does not. */
function hasEnded({ halves }: RestDrift, group: number, { endedShare }: LeakThresholds): boolean {
  const last = halves.at(-1);
  const first = -(last?.firstHalf[group - 1] ?? Number.NaN);
  const second = -(last?.secondHalf[group - 1] ?? Number.NaN);
  return second < endedShare * first;
}

/**
 * Groups that fall as a leaking one does, and no finding says so: a whole sentence each. Too unsteady among their neighbours, or
 * still above them, where a balancer would lower them as well. Such a pack is neither leaking for certain nor sound.
 */
export function untoldFalls(
  evidence: Evidence,
  faults: readonly { fault: Fault; groups: readonly number[] }[],
): string[] {
  const { drift: long, shortDrift, doubtfulGroups } = evidence;
  const { driftMillivoltPerDay, shortDriftMillivoltPerDay } = evidence.settings.verdict;
  const { leak } = evidence.settings;
  const drift = long ?? shortDrift;
  if (drift === null) return [];
  const [limit, multiple] =
    long === null ? [shortDriftMillivoltPerDay, leak.shortSigmas] : [driftMillivoltPerDay, leak.watchSigmas];
  return fallsOf(drift, doubtfulGroups).flatMap((fall) => {
    const { group, millivoltPerDay, error } = fall;
    const isTold = faults.some(({ fault, groups }) => tellOfLeaks.has(fault) && groups.includes(group));
    if (isTold || millivoltPerDay < limit || millivoltPerDay < multiple * error) return [];
    if (isLittleCharge(evidence, drift, fall)) return [];
    const bled = mayBeBled(evidence, drift, group);
    if (bled && hasEnded(drift, group, leak)) return [];
    const why = bled
      ? "it stands no lower than the others, so a balancer may be doing it, or a leak"
      : "it is not proven to be a leak";
    return [
      `At rest group ${group} falls by ${sayPace(fall)}, and a leak begins at ${inDigits(limit, 0)}${long === null ? " in a rest this short" : ""}: ${why}. Repeat the rest for 7 days with balancing off.`,
    ];
  });
}

const tellOfLeaks: ReadonlySet<Fault> = new Set(["self-discharge", "water-ingress"]);

/** "group 7, 0.42 mV per day (95 % limits 0.30 to 0.54)". */
export function sayFall(fall: Fall): string {
  return `group ${fall.group}, ${sayPace(fall)}`;
}

function sayPace({ millivoltPerDay, error }: Fall): string {
  const limits = normal95(millivoltPerDay, error);
  const within = limits === null ? "" : ` (95 % limits ${inDigits(limits[0], 2)} to ${inDigits(limits[1], 2)})`;
  return `${inDigits(millivoltPerDay, 2)} mV per day${within}`;
}
