import { cellCurve } from "./cell-curve";
import type { Trial } from "./make-trial";
import type { PlantedFault } from "./planted-fault";
import type { TruthRow } from "./run-pack";

/**
 * Whether a planted fault can be seen in the file at all, from the simulated truth and the board's noise: never from what
 * the diagnosis looks at.
 *
 * "visible": beyond the trade's limit of its class by more than what is usual to be unsure of. "in the band": beyond the limit, and
 * so that fault, but by less. "below the class": too small to be that fault. "not in the log": the fault is real, but
 * nothing the file holds is moved by it.
 */
export type Visibility = "visible" | "in the band" | "below the class" | "not in the log";

/**
 * Where a class begins. `trade` states the limits of the fault table and the methods the trade has for them (10 % of
 * capacity, 5 % of charge, 15 % of resistance, 3 mV a day over two days, 50 mV at a tap in three rows, 2.5 V, 0 degC while charging
 * for a minute); `clear` lies beyond by what instruments and usage leave unsure. Between the two lies the band, counted on its own.
 */
interface Limits {
  readonly capacity: number;
  readonly capacityGeneric: number;
  readonly sweptPercent: number;
  readonly offsetPercent: number;
  readonly resistanceRatio: number;
  readonly jointShare: number;
  readonly steps: number;
  readonly drainVPerDay: number;
  readonly shortDrainVPerDay: number;
  readonly tapMillivolt: number;
  readonly tapRows: number;
  readonly blockMillivolt: number;
  readonly drainedV: number;
  readonly jumpK: number;
  readonly offK: number;
  readonly othersMoveK: number;
  readonly chargerExcessV: number;
  readonly chargerCurrent: number;
  readonly chargerCurrentS: number;
  readonly coldC: number;
  readonly coldS: number;
  readonly peakCurrent: number;
  readonly peakS: number;
  readonly hotChargeK: number;
  readonly hotChargeS: number;
  readonly hotC: number;
  readonly hotS: number;
}

const trade: Limits = {
  capacity: 0.9,
  capacityGeneric: 0.9,
  sweptPercent: 30,
  offsetPercent: 5,
  resistanceRatio: 1.15,
  jointShare: 0.15,
  steps: 20,
  drainVPerDay: 0.003,
  shortDrainVPerDay: 0.006,
  tapMillivolt: 50,
  tapRows: 3,
  blockMillivolt: 15,
  drainedV: 2.5,
  jumpK: 10,
  offK: 8,
  othersMoveK: 5,
  chargerExcessV: 0.05,
  chargerCurrent: 1.1,
  chargerCurrentS: 120,
  coldC: 0,
  coldS: 60,
  peakCurrent: 1.1,
  peakS: 10,
  hotChargeK: 0,
  hotChargeS: 600,
  hotC: 60,
  hotS: 600,
};

const clear: Limits = {
  capacity: 0.89,
  capacityGeneric: 0.85,
  sweptPercent: 32,
  offsetPercent: 5.3,
  resistanceRatio: 1.2,
  jointShare: 0.2,
  steps: 40,
  drainVPerDay: 0.0035,
  shortDrainVPerDay: 0.009,
  tapMillivolt: 55,
  tapRows: 6,
  blockMillivolt: 20,
  drainedV: 2.38,
  jumpK: 12,
  offK: 10,
  othersMoveK: 7,
  chargerExcessV: 0.06,
  chargerCurrent: 1.15,
  chargerCurrentS: 240,
  coldC: -2.5,
  coldS: 420,
  peakCurrent: 1.2,
  peakS: 60,
  hotChargeK: 3,
  hotChargeS: 1800,
  hotC: 62,
  hotS: 1800,
};

/** Multiple of its own noise a signal must have before a careful person would see it. */
const clearOfNoise = 5;

export function visibility(trial: Trial, planted: PlantedFault): Visibility {
  const beyond = seenWithin(trial, planted, trade);
  if (beyond !== "visible") return beyond;
  return seenWithin(trial, planted, clear) === "visible" ? "visible" : "in the band";
}

function seenWithin(trial: Trial, planted: PlantedFault, limits: Limits): Visibility {
  switch (planted.fault) {
    case "weak-cell":
      return weakCell(trial, planted, limits);
    case "imbalance":
      return imbalance(trial, planted, limits);
    case "high-resistance-cell":
      return planted.size < limits.resistanceRatio
        ? "below the class"
        : resistance(trial, (planted.size - 1) * usualOhm(trial), limits);
    case "high-resistance-joint":
      return joint(trial, planted, limits);
    case "self-discharge":
    case "water-ingress":
      return drain(trial, planted, limits);
    case "sense-wire":
      return senseWire(trial, planted, limits);
    case "measurement-fault":
      return measurement(trial, planted, limits);
    case "power-stage-fault":
      return powerStage(trial, planted);
    case "over-discharge":
      return overDischarge(planted, limits);
    case "temperature-sensor":
      return probe(trial, planted, limits);
    case "main-lead":
      return mainLead(trial, planted);
    case "outside-cause":
      return outside(trial, planted, limits);
    case "acute-event":
      return acute(trial, planted);
    default:
      return "not in the log";
  }
}

const lacks = (trial: Trial, column: "current" | "pack voltage" | "temperatures" | "switches") =>
  trial.style.leavesOut.has(column);

function noiseOf(trial: Trial): number {
  return Math.hypot(trial.monitor.noiseV, trial.monitor.stepV / Math.sqrt(12), 0.0007);
}

/** Rows that reach the file. */
function seen(trial: Trial): readonly TruthRow[] {
  const { hole } = trial.style;
  const { truth } = trial;
  return hole === null ? truth : truth.filter((_, at) => at < hole[0] * truth.length || at >= hole[1] * truth.length);
}

function middle(values: Float64Array): number {
  const sorted = values.toSorted();
  return ((sorted[(sorted.length - 1) >> 1] ?? 0) + (sorted[sorted.length >> 1] ?? 0)) / 2;
}

/** What the fault does to the rest voltage of its group against the others, V, at about 400 rows. */
function restSignature(trial: Trial, group: number) {
  const curve = cellCurve(trial.bench.trueCurve, 0, 0);
  const rows = seen(trial);
  const stride = Math.max(1, Math.floor(rows.length / 400));
  return rows
    .filter((_, at) => at % stride === 0)
    .map((row) => {
      const usual = middle(row.percent);
      const own = row.percent[group - 1] ?? usual;
      return { usual, apart: own - usual, volt: curve(own) - curve(usual), restedS: row.restedS, timeS: row.timeS };
    });
}

const knowsCurve = (trial: Trial) =>
  trial.bench.model.openCircuit !== undefined || trial.bench.chemistry !== "iron phosphate";

function weakCell(trial: Trial, planted: PlantedFault, limits: Limits): Visibility {
  const limit = trial.bench.model.openCircuit === undefined ? limits.capacityGeneric : limits.capacity;
  if (planted.size > limit) return "below the class";
  const rows = restSignature(trial, planted.groups[0] ?? 1);
  const swept = Math.max(...rows.map((row) => row.usual)) - Math.min(...rows.map((row) => row.usual));
  const volts = rows.map((row) => row.volt);
  const moves = Math.max(...volts) - Math.min(...volts);
  const told = knowsCurve(trial) && !lacks(trial, "current") && swept >= limits.sweptPercent;
  const flat = rows.filter((row) => Math.abs(row.volt) > clearOfNoise * noiseOf(trial)).length < 0.05 * rows.length;
  return told && !flat && moves >= 0.008 + clearOfNoise * noiseOf(trial) ? "visible" : "not in the log";
}

function imbalance(trial: Trial, planted: PlantedFault, limits: Limits): Visibility {
  if (planted.size < limits.offsetPercent) return "below the class";
  const rows = restSignature(trial, planted.groups[0] ?? 1);
  const clear = rows.filter((row) => Math.abs(row.volt) >= 0.006 + clearOfNoise * noiseOf(trial));
  const told = knowsCurve(trial) && !lacks(trial, "current");
  return told && clear.length >= 0.1 * rows.length && rows.length >= 100 ? "visible" : "not in the log";
}

function usualOhm(trial: Trial): number {
  const rows = seen(trial);
  const stride = Math.max(1, Math.floor(rows.length / 100));
  const all = rows.filter((_, at) => at % stride === 0).map((row) => middle(row.ohm));
  return middle(Float64Array.from(all));
}

/** Steps of the true current between neighbouring rows, A. */
function currentSteps(trial: Trial): number[] {
  const rows = seen(trial);
  return rows.flatMap((row, at) => {
    const before = rows[at - 1];
    if (before === undefined || row.timeS - before.timeS > 2 * trial.monitor.intervalS) return [];
    const step = Math.abs(row.currentA - before.currentA);
    return step >= 0.1 * trial.bench.model.ratedCapacityAh ? [step] : [];
  });
}

/** An excess of `ohm` moves each step by ohm · ΔI; the steps together must stand clear of noise and of sound scatter. */
function resistance(trial: Trial, ohm: number, limits: Limits): Visibility {
  if (lacks(trial, "current") || trial.monitor.sampling === "stale") return "not in the log";
  const steps = currentSteps(trial);
  const squares = Math.sqrt(steps.reduce((sum, step) => sum + step * step, 0));
  const clear = ohm * squares >= 2 * clearOfNoise * Math.SQRT2 * noiseOf(trial);
  return steps.length >= limits.steps && clear ? "visible" : "not in the log";
}

function joint(trial: Trial, planted: PlantedFault, limits: Limits): Visibility {
  let weight = 0;
  let sum = 0;
  for (const row of seen(trial)) {
    weight += Math.abs(row.currentA);
    sum += Math.abs(row.currentA) * row.jointOhm;
  }
  const ohm = weight > 0 ? sum / weight : 0;
  // The class is a matter of the pack: a share of what a group of it takes at once.
  if (planted.size / 1000 < limits.jointShare * usualOhm(trial)) return "below the class";
  // What this file shows is another: a slow file reads polarisation along, and a contact that is seldom open hardly counts.
  const usual = middle(Float64Array.from(seen(trial), (row) => row.intervalOhm));
  if (ohm < limits.jointShare * usual) return "not in the log";
  return resistance(trial, ohm, limits);
}

/** V that a group loses against the others within a rest, however short, that no relaxation explains. Engineering default. */
const grossV = 0.05;

function drain(trial: Trial, planted: PlantedFault, limits: Limits): Visibility {
  const group = planted.groups[Math.floor(planted.groups.length / 2)] ?? 1;
  let best: Visibility = "not in the log";
  let start: { timeS: number; volt: number } | null = null;
  let below = true;
  for (const row of restSignature(trial, group)) {
    if (row.restedS < 2 * 3600) {
      start = null;
      continue;
    }
    start ??= { timeS: row.timeS, volt: row.volt };
    const days = (row.timeS - start.timeS) / 86400;
    const lostV = start.volt - row.volt;
    const perDay = days > 0 ? lostV / days : 0;
    // Two hours after a load sound groups differ by relaxation of few millivolts: a gross leak shows within hours.
    if (lostV >= grossV + 2 * noiseOf(trial)) best = "visible";
    if (days < 0.4) continue;
    if (perDay >= 0.003) below = false;
    // A short rest tells a strong leak only: relaxation differs between sound groups by some mV a day.
    if (perDay >= (days >= 1.9 ? limits.drainVPerDay : limits.shortDrainVPerDay) && lostV >= 0.003 + 2 * noiseOf(trial))
      best = "visible";
  }
  if (best === "visible" || planted.fault === "water-ingress") {
    // Water needs a second sign to be told from leaking groups: the taps it wets, or insulation.
    return best;
  }
  return below && planted.size < 0.5 ? "below the class" : "not in the log";
}

function senseWire(trial: Trial, planted: PlantedFault, limits: Limits): Visibility {
  if (planted.size < limits.tapMillivolt) return "below the class";
  if (
    planted.kind === "end tap" &&
    (lacks(trial, "pack voltage") || trial.monitor.packNoiseV + trial.monitor.packStepV > planted.size / 6000)
  )
    return "not in the log";
  // Groups read late differ by their share of the load: riding hides a small error there.
  if (trial.monitor.sampling === "stale" && planted.size < 400) return "not in the log";
  return trial.tapRows >= limits.tapRows ? "visible" : "not in the log";
}

function measurement(trial: Trial, planted: PlantedFault, limits: Limits): Visibility {
  if (planted.kind === "log stands still") {
    // More than 20 rows alike while current flows, of which the file tells the current.
    if (lacks(trial, "current")) return "not in the log";
    // A pack that is not ridden after the moment drawn for it never shows it.
    const stood = seen(trial).filter(({ stoodStill }) => stoodStill).length;
    if (stood === 0) return "not in the log";
    return stood > 22 ? "visible" : "below the class";
  }
  if (planted.kind === "one channel freezes") {
    const rows = seen(trial).slice(Math.ceil(planted.size * seen(trial).length));
    return currentStepsLarge(trial, rows) >= 6 ? "visible" : "not in the log";
  }
  if (Math.abs(planted.size) < limits.blockMillivolt) return "below the class";
  if (lacks(trial, "pack voltage") || lacks(trial, "current")) return "not in the log";
  const shiftV = (Math.abs(planted.size) / 1000) * planted.groups.length;
  const sumNoiseV = Math.hypot(trial.monitor.packNoiseV, trial.monitor.packStepV / 2, noiseOf(trial) * 4);
  // From the first row on it is only told from an imbalance where sum and pack voltage agreed to begin with.
  if (planted.kind === "block from the start" && Math.abs(trial.monitor.packOffsetV) > 0.15 * shiftV)
    return "not in the log";
  const gainV = 0.0007 * trial.bench.model.groups * 4;
  return shiftV >= 3 * sumNoiseV + gainV && seen(trial).length > 200 ? "visible" : "not in the log";
}

function currentStepsLarge(trial: Trial, rows: readonly TruthRow[]): number {
  const ohm = usualOhm(trial);
  return rows.filter((row, at) => Math.abs(row.currentA - (rows[at - 1]?.currentA ?? row.currentA)) * ohm > 0.025)
    .length;
}

function powerStage(trial: Trial, planted: PlantedFault): Visibility {
  if (lacks(trial, "switches")) return "not in the log";
  if (planted.kind === "open while on") return lacks(trial, "pack voltage") ? "not in the log" : "visible";
  if (lacks(trial, "current")) return "not in the log";
  return planted.size > Math.max(1.1, 0.022 * trial.bench.model.ratedCapacityAh) ? "visible" : "below the class";
}

function overDischarge(planted: PlantedFault, limits: Limits): Visibility {
  return planted.size < limits.drainedV ? "visible" : "below the class";
}

function probe(trial: Trial, planted: PlantedFault, limits: Limits): Visibility {
  if (lacks(trial, "temperatures")) return "not in the log";
  const rows = seen(trial);
  if (planted.kind === "open" || planted.kind === "short") return rows.length > 60 ? "visible" : "not in the log";
  if (planted.kind === "jumps") {
    if (planted.size < limits.jumpK) return "below the class";
    return rows.length > 200 ? "visible" : "not in the log";
  }
  if (planted.kind === "off") {
    if (Math.abs(planted.size) < limits.offK) return "below the class";
    return rows.some((row) => row.restedS > 4 * 3600) ? "visible" : "not in the log";
  }
  // Stuck: the others must move while it does not, in the part of the log in which it is stuck for certain.
  const late = rows.slice(Math.ceil(0.5 * rows.length));
  const others = late.map((row) => row.probeC.at(-1) ?? 0);
  const lasts = (late.at(-1)?.timeS ?? 0) - (late[0]?.timeS ?? 0) >= 1800;
  return lasts && Math.max(...others) - Math.min(...others) >= limits.othersMoveK ? "visible" : "not in the log";
}

function mainLead(trial: Trial, planted: PlantedFault): Visibility {
  if (lacks(trial, "pack voltage") || lacks(trial, "current") || trial.monitor.sampling === "stale")
    return "not in the log";
  const ohm = planted.size / 1000;
  const stackOhm = usualOhm(trial) * trial.bench.model.groups;
  // Healthy leads, fuse and switches of a model may well take a quarter of the stack's resistance.
  if (ohm < 0.003 || ohm < 0.25 * stackOhm) return "below the class";
  if (planted.kind === "steady" && ohm < 1.0 * stackOhm) return "not in the log";
  const steps = currentSteps(trial);
  const squares = Math.sqrt(steps.reduce((sum, step) => sum + step * step, 0));
  const noiseV = Math.hypot(
    trial.monitor.packNoiseV,
    trial.monitor.packStepV / 3,
    noiseOf(trial) * Math.sqrt(trial.bench.model.groups),
  );
  const clear = ohm * squares >= 4 * clearOfNoise * Math.SQRT2 * noiseV;
  const paths = seen(trial)
    .filter((row) => Math.abs(row.currentA) > 1)
    .map((row) => row.pathOhm);
  const changes = planted.kind === "steady" || balanced(paths, ohm);
  return steps.length >= 60 && clear && changes ? "visible" : "not in the log";
}

/** A change is seen where both states carried load. */
function balanced(paths: readonly number[], ohm: number): boolean {
  const lowest = Math.min(...paths);
  const high = paths.filter((path) => path > lowest + 0.4 * ohm).length / paths.length;
  return high > 0.12 && high < 0.88;
}

function outside(trial: Trial, planted: PlantedFault, limits: Limits): Visibility {
  const rows = seen(trial);
  const { model } = trial.bench;
  const lasts = (holds: (row: TruthRow) => boolean) => {
    let seconds = 0;
    for (const [at, row] of rows.entries())
      if (holds(row)) seconds += Math.min(120, row.timeS - (rows[at - 1]?.timeS ?? row.timeS));
    return seconds;
  };
  if (planted.kind === "stored empty") {
    const end = middle(rows.at(-1)?.percent ?? new Float64Array(1));
    return model.openCircuit !== undefined && end < 4.3 ? "visible" : "not in the log";
  }
  if (planted.kind === "stored hot") {
    const hot = (row: TruthRow) => Math.max(...row.probeC) > limits.hotC;
    return !lacks(trial, "temperatures") && lasts(hot) > limits.hotS ? "visible" : "not in the log";
  }
  if (planted.kind === "charger voltage too high")
    return trial.highestGroupV > model.cellMaxV + limits.chargerExcessV ? "visible" : "not in the log";
  if (lacks(trial, "current")) return "not in the log";
  if (planted.kind === "charger current too high")
    return lasts((row) => row.currentA > limits.chargerCurrent * model.chargeMaxA) > limits.chargerCurrentS
      ? "visible"
      : "not in the log";
  if (planted.kind === "charged in the cold") {
    if (lacks(trial, "temperatures")) return "not in the log";
    const cold = (row: TruthRow) =>
      row.currentA > 0.02 * model.ratedCapacityAh && Math.min(...row.probeC) < limits.coldC;
    return lasts(cold) > limits.coldS ? "visible" : "not in the log";
  }
  if (planted.kind === "charged in the heat") {
    if (lacks(trial, "temperatures")) return "not in the log";
    const tooWarm = model.chargeMaxTemperatureC + limits.hotChargeK;
    const warm = (row: TruthRow) => row.currentA > 0.02 * model.ratedCapacityAh && middle(row.probeC) > tooWarm;
    return lasts(warm) > limits.hotChargeS ? "visible" : "not in the log";
  }
  const over = (row: TruthRow) => -row.currentA > limits.peakCurrent * model.peakDischargeA;
  // A pulse shorter than two rows is one reading of a sensor.
  return longestS(rows, over) > Math.max(limits.peakS, trial.monitor.intervalS) ? "visible" : "not in the log";
}

/** Longest stretch of rows for which it holds, s. */
function longestS(rows: readonly TruthRow[], holds: (row: TruthRow) => boolean): number {
  let longest = 0;
  let since = Number.NaN;
  for (const row of rows) {
    if (!holds(row)) since = Number.NaN;
    else if (Number.isNaN(since)) since = row.timeS;
    else longest = Math.max(longest, row.timeS - since);
  }
  return longest;
}

function acute(trial: Trial, planted: PlantedFault): Visibility {
  const rows = seen(trial);
  const collapses = planted.kind.startsWith("short inside") || planted.kind.startsWith("cells lost one by one");
  // A group that was lost before the second row of a slow file leaves a low group, and its heat.
  const fallSeen = !planted.kind.endsWith("from the first row") || trial.monitor.intervalS <= 2;
  if (collapses && fallSeen) return rows.length > 30 ? "visible" : "not in the log";
  if (lacks(trial, "temperatures")) return "not in the log";
  // Heat while nothing flows: a probe that rises by 6 K in 5 minutes, or by 10 K in an hour, or reaches 90 degC.
  const rises = (place: number, withinS: number, riseK: number) => {
    let back = 0;
    for (const [at, row] of rows.entries()) {
      while (row.timeS - (rows[back]?.timeS ?? 0) > withinS) back += 1;
      const rise = (row.probeC[place] ?? 0) - (rows[back]?.probeC[place] ?? 0);
      if (at - back >= 3 && row.restedS > 1200 && rise >= riseK) return true;
    }
    return false;
  };
  for (const [place] of trial.monitor.probes.entries()) {
    if (rises(place, 300, 6) || rises(place, 3600, 10)) return "visible";
    if (rows.some((row) => (row.probeC[place] ?? 0) > 90 && row.restedS > 0)) return "visible";
  }
  return "not in the log";
}
