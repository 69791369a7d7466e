import { median, quantile, scaledMad } from "@/lib/readings/measure/median";
import { lineOf, rowsUnderPath } from "@/lib/readings/measure/path-levels";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Rows under load in which the path between groups and terminals takes far more than in most. */
export interface PathOpenings {
  /** Rows that take more, and rows that take less, by more than a sound path scatters; out of `looked` rows under load. */
  readonly more: number;
  readonly less: number;
  readonly looked: number;
  /** ohm by which those that take more lie above the rest, in the middle. */
  readonly moreOhm: number;
}

/** Engineering defaults: rows with load that are needed, share of the log's own high load that counts as one, rounds of leaving odd rows out. */
const rowsNeeded = 40;
const someLoad = 0.1;
const rounds = 3;
/** Scatters of the rows about their line from which a row lies off it, and from which it counts as such. Engineering defaults. */
const offLine = 4;
const farOff = 6;

/**
 * A contact that opens now and then only ever adds to the drop. Noise and rows read at skewed moments scatter both ways, so it is told by
 * which side the odd rows lie on; their squares, as `path-levels.ts` takes them, blur what few but large openings show. `null` without load.
 */
export function pathOpenings(survey: RowSurvey, roundingV: number): PathOpenings | null {
  const { log, sumV } = survey;
  const rows = rowsUnderPath(survey);
  const amps = Float64Array.from(rows, (row) => log.currentA[row] ?? 0);
  const highA = quantile(amps.map(Math.abs), 0.98) ?? 0;
  if (!(highA > survey.restCurrentA)) return null;
  const isLoaded = (row: number) => Math.abs(log.currentA[row] ?? 0) >= someLoad * highA;
  const loaded = rows.filter(isLoaded);
  if (loaded.length < rowsNeeded) return null;
  const middleV = mean(rows, (row) => sumV[row] ?? 0);
  let kept = rows;
  let off = (_: number): number => 0;
  let scatterV = 0;
  for (let round = 0; round < rounds; round += 1) {
    const line = lineOf(survey, kept, middleV);
    if (line === null) return null;
    const [base = 0, ohm = 0, ofSum = 0, before = 0, after = 0] = line.coefficients;
    off = (row) => {
      const amp = log.currentA[row] ?? 0;
      const steps = before * (amp - (log.currentA[row - 1] ?? 0)) + after * ((log.currentA[row + 1] ?? 0) - amp);
      return (
        (sumV[row] ?? 0) -
        (log.packVoltageV[row] ?? 0) -
        base -
        ohm * amp -
        ofSum * ((sumV[row] ?? 0) - middleV) -
        steps
      );
    };
    scatterV = Math.max(scaledMad(Array.from(loaded, off)) ?? 0, scaledMad(Array.from(rows, off)) ?? 0, roundingV);
    kept = rows.filter((row) => Math.abs(off(row)) < offLine * scatterV);
  }
  // More drop than the line: above it while discharging, under it while charging.
  const more = Array.from(loaded, (row) => {
    const amp = log.currentA[row] ?? 0;
    return { volt: -Math.sign(amp) * off(row), amp: Math.abs(amp) };
  });
  const opened = more.filter(({ volt }) => volt > farOff * scatterV);
  return {
    more: opened.length,
    less: more.filter(({ volt }) => volt < -farOff * scatterV).length,
    looked: loaded.length,
    moreOhm: median(opened.map(({ volt, amp }) => volt / amp)) ?? 0,
  };
}

function mean(rows: Int32Array, value: (row: number) => number): number {
  return rows.reduce((sum, row) => sum + value(row), 0) / Math.max(1, rows.length);
}
