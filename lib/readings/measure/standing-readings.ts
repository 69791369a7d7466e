import { type GroupStateFit, poorlyFitted } from "@/lib/readings/measure/group-state-fit";

/** Groups whose reading is off by the same volts at every charge, as no charge, capacity or resistance moves it. */
export interface StandingReading {
  /** "tap": two neighbours, one as much too high as the other too low. "channels": one group, or neighbours off alike. */
  readonly kind: "tap" | "channels";
  readonly groups: readonly number[];
  /** V; of a tap how far it is displaced, towards the lower of its groups. */
  readonly shiftV: number;
}

/** Multiple of its own error a shift must reach. Engineering default. */
const sigmas = 5;
/** %. Beyond it a group is off in charge as well, and the shift is what an offset's fit leaves. Engineering default. */
const ownChargePercent = 3;
/** Share by which the two groups beside a tap, or the groups of a block, may differ in size. Engineering default. */
const alikeShare = 0.25;

/**
 * Readings that are off throughout, by the fit of every group over the charge swept: it needs no pack voltage, but a sweep
 * over which the curve bends. `leastV`: volts from which one counts. Groups the fit does not describe are left out.
 */
export function standingReadings(states: GroupStateFit, leastV: number): StandingReading[] {
  const poor = poorlyFitted(states);
  const shifts = states.groups.map((state, index) => {
    if (state === null || poor.has(index + 1)) return 0;
    if (Math.abs(state.offsetPercent.estimate) > ownChargePercent) return 0;
    const { estimate, sd } = state.shiftV;
    return Math.abs(estimate) >= Math.max(leastV, sigmas * sd) ? estimate : 0;
  });
  const found: StandingReading[] = [];
  let group = 0;
  while (group < shifts.length) {
    const own = shifts[group] ?? 0;
    const next = shifts[group + 1] ?? 0;
    if (own === 0) {
      group += 1;
    } else if (own * next < 0 && areAlike(own, -next)) {
      found.push({ kind: "tap", groups: [group + 1, group + 2], shiftV: (own - next) / 2 });
      group += 2;
    } else {
      let end = group + 1;
      while (areAlike(own, shifts[end] ?? 0)) end += 1;
      const groups = shifts.slice(group, end).map((_, place) => group + place + 1);
      found.push({ kind: "channels", groups, shiftV: own });
      group = end;
    }
  }
  return found;
}

function areAlike(one: number, other: number): boolean {
  return Math.abs(one - other) <= alikeShare * Math.max(Math.abs(one), Math.abs(other)) && one * other > 0;
}
