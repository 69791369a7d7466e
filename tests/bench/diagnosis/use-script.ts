import type { PackModel } from "@/lib/packs/pack-model";
import type { Chance } from "./chance";

/** One act of use. */
export type Act =
  | { readonly act: "rest"; readonly hours: number }
  | { readonly act: "ride"; readonly minutes: number; readonly style: RideStyle; readonly stopPercent: number }
  | {
      readonly act: "charge";
      readonly currentA: number;
      readonly stopPercent: number;
      /** V the charger stands above its proper end voltage, whole pack. */
      readonly excessV: number;
      readonly hours: number;
    };

/** Shares of continuous current: what the rider usually takes, what he takes at most, and how restless he is. */
export interface RideStyle {
  readonly usual: number;
  readonly most: number;
  readonly holdS: readonly [number, number];
  readonly recovers: boolean;
  /** The controller asks for more than the pack's peak current. */
  readonly beyondPeak?: boolean;
}

export interface UseScript {
  readonly startPercent: number;
  readonly ambientC: number;
  readonly acts: readonly Act[];
  /** K by which the air is warmer by day and colder by night than `ambientC`. */
  readonly swingK?: number;
  readonly balancesAtRest?: boolean;
  /** Protection flags raised for a reason outside the pack. */
  readonly alarms?: number;
}

export function someStyle(chance: Chance): RideStyle {
  return {
    usual: chance.between(0.25, 0.6),
    most: chance.between(0.9, 1.5),
    holdS: chance.pick([
      [2, 12],
      [4, 30],
      [10, 60],
    ]),
    recovers: chance.happens(0.5),
  };
}

export const rest = (hours: number): Act => ({ act: "rest", hours });

export function ride(chance: Chance, minutes: number, stopPercent = 10): Act {
  return { act: "ride", minutes, style: someStyle(chance), stopPercent };
}

export function charge(model: PackModel, chance: Chance, change: Partial<Extract<Act, { act: "charge" }>> = {}): Act {
  return {
    act: "charge",
    currentA: model.chargeMaxA * chance.between(0.5, 0.95),
    stopPercent: 200,
    excessV: 0,
    hours: 9,
    ...change,
  };
}

/** Minutes of riding that take about `percent` of charge out of the pack in this style. */
export function minutesFor(model: PackModel, percent: number): number {
  return (60 * (percent / 100) * model.ratedCapacityAh) / (0.45 * model.continuousDischargeA);
}

/** An ordinary log: a ride or two, a charge, rests of no particular length. */
export function ordinaryUse(model: PackModel, chance: Chance): UseScript {
  const acts: Act[] = [rest(chance.between(0.05, 1.5))];
  const deep = chance.between(40, 85);
  acts.push(ride(chance, minutesFor(model, deep), chance.between(4, 25)), rest(chance.between(0.2, 3)));
  if (chance.happens(0.85)) acts.push(charge(model, chance), rest(chance.between(0.2, 3)));
  if (chance.happens(0.35)) acts.push(ride(chance, minutesFor(model, chance.between(10, 50)), 10), rest(0.3));
  return { startPercent: chance.between(85, 99), ambientC: chance.between(4, 33), acts };
}

/** Parked for days after a short ride, with a little use before and after. */
export function parkedUse(model: PackModel, chance: Chance, days: number): UseScript {
  return {
    startPercent: chance.between(45, 95),
    ambientC: chance.between(6, 28),
    acts: [
      rest(0.2),
      ride(chance, minutesFor(model, chance.between(8, 25)), 25),
      rest(24 * days),
      ...(chance.happens(0.3) ? [charge(model, chance), rest(chance.between(1, 24))] : []),
    ],
  };
}

/** The current a rider asks for, second by second, A, discharge negative. */
export function rideDemand(model: PackModel, act: Extract<Act, { act: "ride" }>, chance: Chance): Float64Array {
  const demandA = new Float64Array(Math.max(1, Math.round(act.minutes * 60)));
  const { style } = act;
  const askedA = style.most * model.continuousDischargeA;
  const mostA = style.beyondPeak === true ? askedA : Math.min(model.peakDischargeA, askedA);
  let at = 0;
  let pulled = false;
  while (at < demandA.length) {
    const mood = chance.uniform();
    const usualA = style.usual * model.continuousDischargeA * chance.between(0.4, 1.5);
    let level = -(style.beyondPeak === true ? usualA : Math.min(usualA, model.continuousDischargeA));
    let seconds = chance.between(style.holdS[0], style.holdS[1]);
    if (mood < 0.15) level = 0;
    else if (mood < 0.22 && style.recovers) level = 0.3 * model.chargeMaxA;
    else if (mood > 0.85 && !pulled) {
      level = -mostA * chance.between(0.7, 1);
      seconds = Math.min(seconds, model.peakSeconds);
    }
    // A pulse is followed by something less: a controller keeps the pack's pulse limit.
    pulled = -level > model.continuousDischargeA;
    const ripple = Math.abs(level) * chance.between(0.003, 0.03);
    for (let end = Math.min(demandA.length, at + Math.max(1, Math.round(seconds))); at < end; at += 1) {
      demandA[at] = level === 0 ? 0 : level + chance.normal(ripple);
    }
  }
  return demandA;
}
