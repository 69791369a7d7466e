import { median, scaledMad } from "@/lib/readings/measure/median";

export interface LoadStep {
  /** Last row before the step and first row with the new current. */
  readonly beforeRow: number;
  readonly row: number;
  readonly fromA: number;
  readonly toA: number;
}

export interface StepGates {
  /** A. */
  readonly leastChangeA: number;
  /** s within which the current must have changed. */
  readonly withinS: number;
  /** s of steady current before, and the share it may vary by. */
  readonly steadyBeforeS: number;
  readonly steadyShare: number;
}

/** Engineering defaults; `leastChangeA` is a share of rated capacity in 1/h and is scaled by the caller. */
export const defaultStepGates: StepGates = { leastChangeA: 0.2, withinS: 2, steadyBeforeS: 10, steadyShare: 0.05 };

/**
 * Gates for a log of this sampling: rows further apart than the gates allow still hold a step, which then lies somewhere between two of
 * them, and three rows make a steady current. What is read from such steps is read later than it says, by up to one interval.
 */
export function gatesForSampling(gates: StepGates, intervalS: number): StepGates {
  if (intervalS <= gates.withinS) return gates;
  return {
    ...gates,
    withinS: Math.max(gates.withinS, sampledWithin * intervalS),
    steadyBeforeS: Math.max(gates.steadyBeforeS, sampledSteady * intervalS),
  };
}

/** Intervals a step may take, and intervals of steady current before it: one and two with what a clock wanders. Engineering defaults. */
const sampledWithin = 1.2;
const sampledSteady = 1.8;

/** Load steps preceded by steady current: what a resistance at a stated time after the step can be read from. */
export function loadSteps(
  timeS: Float64Array,
  currentA: Float64Array,
  segment: Int32Array,
  gates: StepGates,
): LoadStep[] {
  const steps: LoadStep[] = [];
  let steadyFrom = 0;
  for (let row = 1; row < timeS.length; row += 1) {
    const fromA = currentA[row - 1] ?? Number.NaN;
    const toA = currentA[row] ?? Number.NaN;
    const seconds = (timeS[row] ?? 0) - (timeS[row - 1] ?? 0);
    const sameClock = segment[row] === segment[row - 1];
    const change = Math.abs(toA - fromA);
    const steady = (timeS[row - 1] ?? 0) - (timeS[steadyFrom] ?? 0) >= gates.steadyBeforeS;
    if (sameClock && change >= gates.leastChangeA && seconds <= gates.withinS && steady) {
      steps.push({ beforeRow: row - 1, row, fromA, toA });
    }
    const start = currentA[steadyFrom] ?? Number.NaN;
    const tolerance = gates.steadyShare * Math.max(Math.abs(start), gates.leastChangeA);
    if (!sameClock || !(Math.abs(toA - start) <= tolerance)) steadyFrom = row;
  }
  return steps;
}

/**
 * (V before - V at `afterS`) / (I before - I at `afterS`), ohm, straight between samples, counted from the first row
 * with the new current. `null` where the log ends, the interval around that moment is longer than `longestIntervalS`, or the new current
 * has changed by more than 10 % meanwhile. Values at different times after the step are not comparable. A voltage outside `plausibleV` gives none.
 */
export function stepResistanceOhm(
  timeS: Float64Array,
  currentA: Float64Array,
  voltageV: Float64Array,
  step: LoadStep,
  afterS: number,
  [low, high]: readonly [number, number] = anyVoltage,
  longestIntervalS = Math.max(afterS, 1),
): number | null {
  const t0 = timeS[step.row] ?? 0;
  const change = step.toA - step.fromA;
  for (let row = step.row; row < timeS.length; row += 1) {
    if (Math.abs((currentA[row] ?? Number.NaN) - step.toA) > 0.1 * Math.abs(change)) return null;
    const since = (timeS[row] ?? 0) - t0;
    if (since < afterS) continue;
    const lastSince = row === step.row ? 0 : (timeS[row - 1] ?? 0) - t0;
    if (since - lastSince > longestIntervalS) return null;
    const part = since > lastSince ? (afterS - lastSince) / (since - lastSince) : 0;
    const beforeRow = row === step.row ? row : row - 1;
    const startV = voltageV[step.beforeRow] ?? Number.NaN;
    const endV = between(voltageV, beforeRow, row, part);
    const ohm = (startV - endV) / (step.fromA - between(currentA, beforeRow, row, part));
    const plausible = startV >= low && startV <= high && endV >= low && endV <= high;
    return plausible && Number.isFinite(ohm) ? ohm : null;
  }
  return null;
}

/** What a column reads the given part of the way from one row to another. */
function between(column: Float64Array, beforeRow: number, row: number, part: number): number {
  const before = column[beforeRow] ?? Number.NaN;
  return before + part * ((column[row] ?? Number.NaN) - before);
}

const anyVoltage = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY] as const;

/** Median over the steps that allow a value, with the standard error of a median; `null` where none does. */
export function stepResistance(
  timeS: Float64Array,
  currentA: Float64Array,
  voltageV: Float64Array,
  steps: readonly LoadStep[],
  afterS: number,
  plausibleV?: readonly [number, number],
  longestIntervalS?: number,
): { ohm: number; errorOhm: number | null; steps: number } | null {
  const values: number[] = [];
  for (const step of steps) {
    const ohm = stepResistanceOhm(timeS, currentA, voltageV, step, afterS, plausibleV, longestIntervalS);
    if (ohm !== null) values.push(ohm);
  }
  const middle = median(values);
  if (middle === null) return null;
  const spread = values.length >= 3 ? (scaledMad(values) ?? 0) : null;
  // 1.2533 = sqrt(pi / 2): standard error of a median of normal values against that of a mean.
  const errorOhm = spread === null ? null : (1.2533 * spread) / Math.sqrt(values.length);
  return { ohm: middle, errorOhm, steps: values.length };
}
