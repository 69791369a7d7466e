import { median, quantile } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { spreadAt } from "@/lib/readings/measure/temperature-rates";
import { rangeOf } from "@/lib/readings/measure/value-range";

export interface ProbeFault {
  readonly kind: "open" | "short" | "stuck" | "jumping" | "offset";
  readonly probe: string;
  readonly rows: number;
  readonly durationS: number;
  /** The reading that gives it away, degC (for a jump: its size, K). */
  readonly readingC: number;
  /** What the other probes did meanwhile: range in K for stuck, median in degC otherwise. */
  readonly othersC: number;
}

export interface ProbeGates {
  /** degC. An open NTC reads the low rail, a shorted one the high rail (or a sentinel). */
  readonly openBelowC: number;
  readonly shortAboveC: number;
  /** Rows on a rail, in runs of `railRun` and more, before it is more than bad frames; or this share of all rows. */
  readonly railRows: number;
  readonly railRun: number;
  readonly railShare: number;
  /** Rows off its usual value, and different values, in which the probe on the switches must read a believable temperature: some boards write a number where they carry none. */
  readonly movingRows: number;
  readonly movingValues: number;
  /** s and K: no movement for so long while others move so much. */
  readonly stuckS: number;
  readonly stuckRangeK: number;
  readonly othersMoveK: number;
  /** A reading that never changes at all is called stuck from so many steps of the others' resolution on, and K. */
  readonly identicalSteps: number;
  readonly identicalMoveK: number;
  /** K between neighbouring rows, with the other probes flat; and how many such jumps. */
  readonly jumpK: number;
  readonly jumps: number;
  /** K against the other probes after long rest. */
  readonly offsetK: number;
}

/** Engineering defaults without authority. */
export const defaultProbeGates: ProbeGates = {
  openBelowC: -35,
  shortAboveC: 125,
  railRows: 5,
  railRun: 3,
  railShare: 0.01,
  movingRows: 10,
  movingValues: 2,
  stuckS: 1800,
  stuckRangeK: 0.1,
  othersMoveK: 5,
  identicalSteps: 10,
  identicalMoveK: 2,
  jumpK: 10,
  jumps: 3,
  offsetK: 8,
};

/** s of rest after which all probes of a sound pack agree. */
const evenedOutS = 3 * 3600;

/** Electrical faults of temperature probes: rails, no movement, jumps, and a standing offset after long rest. */
export function probeFaults(survey: RowSurvey, gates = defaultProbeGates): ProbeFault[] {
  const { temperatures } = survey.log;
  const alive = temperatures.filter((probe) => isAlive(probe.valuesC, gates));
  const faults: ProbeFault[] = [];
  for (const probe of temperatures) {
    const others = alive.filter((other) => other !== probe).map((other) => other.valuesC);
    const fault =
      onRail(survey, probe.valuesC, others, gates) ??
      jumping(survey, probe.valuesC, others, gates) ??
      stuck(survey, probe.valuesC, others, gates) ??
      offset(survey, probe.valuesC, others, gates);
    if (fault !== null) faults.push({ probe: probe.name, ...fault });
  }
  return faults;
}

type Fault = Omit<ProbeFault, "probe">;

/** A probe that never gave a sensible value is no witness. */
function isAlive(valuesC: Float64Array, gates: ProbeGates): boolean {
  const middle = quantile(valuesC, 0.5, 5000);
  return middle !== null && middle > gates.openBelowC && middle < gates.shortAboveC;
}

function onRail(
  survey: RowSurvey,
  valuesC: Float64Array,
  others: readonly Float64Array[],
  gates: ProbeGates,
): Fault | null {
  const { lowest, highest } = rangeOf(valuesC);
  for (const kind of ["open", "short"] as const) {
    if (kind === "open" ? lowest > gates.openBelowC : highest < gates.shortAboveC) continue;
    let rows = 0;
    let rowsInRuns = 0;
    let run = 0;
    let durationS = 0;
    let reading = Number.NaN;
    let around = Number.NaN;
    for (let row = 0; row < valuesC.length; row += 1) {
      const warm = valuesC[row] ?? Number.NaN;
      if (kind === "open" ? !(warm <= gates.openBelowC) : !(warm >= gates.shortAboveC)) {
        if (Number.isFinite(warm)) run = 0;
        continue;
      }
      run += 1;
      rows += 1;
      if (run >= gates.railRun) rowsInRuns += run === gates.railRun ? run : 1;
      durationS += survey.intervalS[row] ?? 0;
      if (rows % 50 === 1) {
        reading = warm;
        around = medianAt(others, row);
      }
    }
    const often = rows >= Math.max(4 * gates.railRows, gates.railShare * valuesC.length);
    // Arctic cold is not an open circuit: another probe, where there is one, must disagree.
    if ((rowsInRuns >= gates.railRows || often) && !(Math.abs(around - reading) < gates.jumpK)) {
      return { kind, rows, durationS, readingC: reading, othersC: around };
    }
  }
  return null;
}

function jumping(
  survey: RowSurvey,
  valuesC: Float64Array,
  others: readonly Float64Array[],
  gates: ProbeGates,
): Fault | null {
  const sane = (warm: number) => warm > gates.openBelowC && warm < gates.shortAboveC;
  let rows = 0;
  let largest = 0;
  let durationS = 0;
  for (let row = 1; row < valuesC.length; row += 1) {
    const now = valuesC[row] ?? Number.NaN;
    const before = valuesC[row - 1] ?? Number.NaN;
    const jump = Math.abs(now - before);
    if (!(jump >= gates.jumpK) || !((survey.intervalS[row] ?? 0) > 0) || !sane(now) || !sane(before)) continue;
    if (others.some((other) => Math.abs((other[row] ?? 0) - (other[row - 1] ?? 0)) >= gates.jumpK / 2)) continue;
    rows += 1;
    durationS += survey.intervalS[row] ?? 0;
    largest = Math.max(largest, jump);
  }
  return rows >= gates.jumps ? { kind: "jumping", rows, durationS, readingC: largest, othersC: Number.NaN } : null;
}

function stuck(
  survey: RowSurvey,
  valuesC: Float64Array,
  others: readonly Float64Array[],
  gates: ProbeGates,
): Fault | null {
  if (others.length === 0) return null;
  let start = 0;
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let best: Fault | null = null;
  for (let row = 0; row < valuesC.length; row += 1) {
    const warm = valuesC[row] ?? Number.NaN;
    const wider = Math.max(high, warm) - Math.min(low, warm) > gates.stuckRangeK;
    if (wider) {
      best = longerOf(best, stuckBetween(survey, valuesC, others, start, row - 1, gates));
      start = row;
      low = warm;
      high = warm;
    } else if (Number.isFinite(warm)) {
      low = Math.min(low, warm);
      high = Math.max(high, warm);
    }
  }
  return longerOf(best, stuckBetween(survey, valuesC, others, start, valuesC.length - 1, gates));
}

/** The first of two that last equally long. */
function longerOf(first: Fault | null, second: Fault | null): Fault | null {
  return second !== null && (first === null || second.durationS > first.durationS) ? second : first;
}

function stuckBetween(
  survey: RowSurvey,
  valuesC: Float64Array,
  others: readonly Float64Array[],
  from: number,
  to: number,
  gates: ProbeGates,
): Fault | null {
  const readingC = valuesC[from] ?? Number.NaN;
  const durationS = (survey.log.timeS[to] ?? 0) - (survey.log.timeS[from] ?? 0);
  if (!(durationS >= gates.stuckS) || to - from < 20 || !Number.isFinite(readingC)) return null;
  const moves = others.map((other) => range(other.subarray(from, to + 1)));
  const othersC = Math.min(...moves);
  // A living probe flickers by its resolution: one that shows the same bits throughout needs less movement of the others.
  const identical = range(valuesC.subarray(from, to + 1)) === 0;
  const needed = identical
    ? Math.min(gates.othersMoveK, Math.max(gates.identicalMoveK, gates.identicalSteps * resolution(others, from, to)))
    : gates.othersMoveK;
  return othersC >= needed ? { kind: "stuck", rows: to - from + 1, durationS, readingC, othersC } : null;
}

function offset(
  survey: RowSurvey,
  valuesC: Float64Array,
  others: readonly Float64Array[],
  gates: ProbeGates,
): Fault | null {
  if (others.length === 0) return null;
  const apart: number[] = [];
  const otherSpreads: number[] = [];
  let durationS = 0;
  let around = Number.NaN;
  const stride = Math.max(1, Math.floor(valuesC.length / 2000));
  for (let row = 0; row < valuesC.length; row += stride) {
    const warm = valuesC[row] ?? Number.NaN;
    if (!((survey.restingS[row] ?? -1) >= evenedOutS)) continue;
    around = medianAt(others, row);
    apart.push(warm - around);
    otherSpreads.push(spreadAt(others, row));
    durationS += survey.intervalS[row] ?? 0;
  }
  const middle = median(apart);
  if (middle === null || apart.length < 10 || Math.abs(middle) < gates.offsetK) return null;
  // The witnesses must agree among themselves, else it is one of them that is off. Two probes alone accuse each other.
  if ((median(otherSpreads) ?? 0) > witnessShare * Math.abs(middle)) return null;
  return { kind: "offset", rows: apart.length, durationS, readingC: around + middle, othersC: around };
}

/** Smallest change between neighbouring rows, K. */
function resolution(columns: readonly Float64Array[], from: number, to: number): number {
  let smallest = Number.POSITIVE_INFINITY;
  for (const column of columns) {
    for (let row = from + 1; row <= to; row += 1) {
      const change = Math.abs((column[row] ?? 0) - (column[row - 1] ?? 0));
      if (change > 0.001 && change < smallest) smallest = change;
    }
  }
  return smallest;
}

function medianAt(columns: readonly Float64Array[], row: number): number {
  return median(columns.map((column) => column[row] ?? Number.NaN)) ?? Number.NaN;
}

/** Share of an offset by which the other probes may differ from each other. Engineering default. */
const witnessShare = 0.5;

function range(valuesC: Float64Array): number {
  return (quantile(valuesC, 0.99, 5000) ?? 0) - (quantile(valuesC, 0.01, 5000) ?? 0);
}
