import { differenceSlope } from "@/lib/readings/measure/difference-slope";
import { median } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

export interface SwitchHeating {
  /** Rise of the switches above the probes per square of the current, K per 1,000 A². */
  readonly kelvinPer1000A2: number;
  readonly error: number;
  /** The same in the first and second half of the load logged; null where one half tells nothing. */
  readonly halves: readonly [number, number] | null;
  readonly rows: number;
  /** Largest low-passed |I| the slope rests on, A. */
  readonly largestA: number;
}

/** Engineering defaults: s of the low pass of I² (a power stage follows within a minute), rows kept, rows and load needed. */
const followsS = 60;
const rowsKept = 600;
const rowsNeeded = 30;
const loadPerHour = 0.5;

/**
 * How much the power stage warms over the pack for its load: trimmed least-squares slope of (T_switches - median
 * probe) on the low-passed I². θ = (T_fet - T_board) / I² rising by a third against the model's own is joint or switch ageing
 * (engineering default). `null` without a switch temperature, probes, current or enough load.
 */
export function switchHeating(survey: RowSurvey, probes: readonly Float64Array[]): SwitchHeating | null {
  const { log, intervalS } = survey;
  const stage = log.mosfetTemperatureC;
  if (stage === null || probes.length === 0) return null;
  const [low, high] = survey.gates.temperaturePlausibleC;
  const squares = new Float64Array(log.rows);
  let square = 0;
  let largest = 0;
  let lastS = Number.NaN;
  let follows = 0;
  for (let row = 0; row < log.rows; row += 1) {
    const amp = log.currentA[row] ?? Number.NaN;
    const seconds = intervalS[row] ?? 0;
    // Most intervals of a log are alike, and an exponential costs more than all the rest of the row.
    if (seconds !== lastS) follows = 1 - Math.exp(-seconds / followsS);
    lastS = seconds;
    if (Number.isFinite(amp)) square += (amp * amp - square) * follows;
    squares[row] = square;
    if (square > largest) largest = square;
  }
  const least = (loadPerHour * survey.ratedCapacityAh) ** 2;
  if (largest < least) return null;
  const stride = Math.max(1, Math.floor(log.rows / rowsKept));
  const x: number[] = [];
  const y: number[] = [];
  for (let row = 0; row < log.rows; row += stride) {
    const warm = stage[row] ?? Number.NaN;
    const board = median(probes.map((probe) => probe[row] ?? Number.NaN));
    if (!(warm >= low && warm <= high) || board === null || !(intervalS[row] ?? 0)) continue;
    x.push((squares[row] ?? 0) / 1000);
    y.push(warm - board);
  }
  if (x.length < rowsNeeded || x.filter((one) => one * 1000 >= least).length < rowsNeeded / 3) return null;
  const whole = slopeOf(x, y, 0, 1);
  if (whole === null) return null;
  // Rows follow each other: the spread of four parts says more of the error than the residuals of one line.
  const parts = [0, 1, 2, 3].map((part) => slopeOf(x, y, part, 4)).filter((one) => one !== null);
  const first = slopeOf(x, y, 0, 2);
  const second = slopeOf(x, y, 1, 2);
  return {
    kelvinPer1000A2: whole,
    error: parts.length >= 2 ? (Math.max(...parts) - Math.min(...parts)) / 2 / Math.sqrt(parts.length) : Number.NaN,
    halves: first === null || second === null ? null : [first, second],
    rows: x.length,
    largestA: Math.sqrt(largest),
  };
}

/** Residuals beyond this many scaled MADs are left out once. Engineering default. */
const trimSigmas = 6;

/** Slope over one part of the points; `null` where the load of that part hardly changes. */
function slopeOf(x: readonly number[], y: readonly number[], part: number, parts: number): number | null {
  const from = Math.floor((part * x.length) / parts);
  const to = Math.floor(((part + 1) * x.length) / parts);
  const loads = x.slice(from, to);
  if (loads.length < rowsNeeded / 3 || Math.max(...loads) - Math.min(...loads) < 0.3 * Math.max(...x)) return null;
  return differenceSlope(Float64Array.from(loads), Float64Array.from(y.slice(from, to)), trimSigmas)?.ohm ?? null;
}
