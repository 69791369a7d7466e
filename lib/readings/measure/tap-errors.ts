import { median } from "@/lib/readings/measure/median";
import type { PackSum } from "@/lib/readings/measure/pack-sum";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { type TapRow, tapRowKind } from "@/lib/readings/measure/tap-row";

/** Signature of a tap (sense wire) that does not hold its potential. */
export interface TapError {
  readonly kind: TapRow["kind"] | "constant";
  /** Groups whose readings are void: the two beside the tap, three between two taps, or the end group. */
  readonly groups: readonly number[];
  readonly rows: number;
  readonly rowsJudged: number;
  /** Largest error of the tap, V. */
  readonly worstV: number;
  readonly firstRow: number;
  readonly lastRow: number;
}

export interface TapGates {
  /** V. Half the difference of the two neighbours. */
  readonly leastErrorV: number;
  /** Rows with the signature. */
  readonly rowsNeeded: number;
}

/** Engineering defaults; 0 rows in 95,872 of three open vehicle packs meet them (BatICM/unsupervised-battery-faults). */
export const defaultTapGates: TapGates = { leastErrorV: 0.05, rowsNeeded: 3 };

/** A pair this rarely seen beside a pair seen often is its echo, not a second fault. Engineering default. */
const echoShare = 0.2;

/**
 * Rows in which a tap error shows: V_j up by d, V_j+1 down by d, the sum and the pack voltage untouched.
 *
 * Each group's own baseline and its extra resistance are taken off first, so that an old imbalance or a high-resistance
 * neighbour is not read as wiring. Rows whose load changes so fast that skewed sampling could do it are left out, and so
 * are rows in which a group concerned is being balanced.
 */
export function tapErrors(
  survey: RowSurvey,
  excessOhm: Float64Array,
  sum: PackSum,
  gates = defaultTapGates,
): TapError[] {
  const baseline = baselines(survey, excessOhm);
  const tallies = new Map<string, Tally>();
  const deviations = new Float64Array(survey.groups);
  const { log, referenceV } = survey;
  let judged = 0;
  for (let row = 0; row < log.rows; row += 1) {
    const reference = referenceV[row] ?? Number.NaN;
    if (!Number.isFinite(reference)) continue;
    judged += 1;
    const reach = Math.max((survey.highestV[row] ?? 0) - reference, reference - (survey.lowestV[row] ?? 0));
    if (reach + baseline.largestV < gates.leastErrorV) continue;
    const current = log.currentA[row] ?? 0;
    let largest = 0;
    for (let index = 0; index < survey.groups; index += 1) {
      const volt = log.cellVoltagesV[index]?.[row] ?? Number.NaN;
      const off = volt - reference - (baseline.voltV[index] ?? 0) - (excessOhm[index] ?? 0) * (current || 0);
      deviations[index] = off;
      if (Math.abs(off) > largest) largest = Math.abs(off);
    }
    if (largest < gates.leastErrorV) continue;
    const found = tapRowKind(deviations, gates.leastErrorV, sumShift(survey, sum, row), sum.noiseV);
    if (found === null || isSkewed(survey, row, found.errorV) || isBalanced(log.balancingMask, row, found.groups))
      continue;
    tally(tallies, found, row);
  }
  return settle(tallies, judged, gates);
}

interface Tally {
  readonly kind: TapRow["kind"];
  readonly groups: readonly number[];
  rows: number;
  worstV: number;
  readonly firstRow: number;
  lastRow: number;
}

function tally(tallies: Map<string, Tally>, found: TapRow, row: number): void {
  const key = `${found.kind}:${found.groups.join(",")}`;
  const known = tallies.get(key);
  if (known === undefined) {
    tallies.set(key, {
      kind: found.kind,
      groups: found.groups,
      rows: 1,
      worstV: found.errorV,
      firstRow: row,
      lastRow: row,
    });
    return;
  }
  known.rows += 1;
  known.lastRow = row;
  known.worstV = Math.max(known.worstV, found.errorV);
}

function settle(tallies: Map<string, Tally>, rowsJudged: number, gates: TapGates): TapError[] {
  const sorted = [...tallies.values()].toSorted((a, b) => b.rows - a.rows);
  const most = sorted[0]?.rows ?? 0;
  const taken: TapError[] = [];
  for (const one of sorted) {
    if (one.rows < gates.rowsNeeded || one.rows < echoShare * most) continue;
    if (taken.some((other) => other.groups.some((group) => one.groups.includes(group)) && one.rows < 0.5 * other.rows))
      continue;
    taken.push({ ...one, rowsJudged });
  }
  return taken;
}

function baselines(survey: RowSurvey, excessOhm: Float64Array) {
  const stride = Math.max(1, Math.floor(survey.log.rows / 2000));
  const voltV = new Float64Array(survey.groups);
  let largestV = 0;
  for (const [index, column] of survey.log.cellVoltagesV.entries()) {
    const sample: number[] = [];
    for (let row = 0; row < survey.log.rows; row += stride) {
      sample.push(
        (column[row] ?? 0) - (survey.referenceV[row] ?? 0) - (excessOhm[index] ?? 0) * (survey.log.currentA[row] || 0),
      );
    }
    voltV[index] = median(sample) ?? 0;
    largestV = Math.max(largestV, Math.abs(voltV[index] ?? 0));
  }
  return { voltV, largestV };
}

function sumShift(survey: RowSurvey, sum: PackSum, row: number): number {
  const pack = survey.log.packVoltageV[row] ?? Number.NaN;
  return (survey.sumV[row] ?? Number.NaN) - pack - sum.baselineV + sum.outsideOhm * (survey.log.currentA[row] ?? 0);
}

/** Load that jumps while the groups are sampled one after the other mimics a tap error of up to R · ΔI. */
function isSkewed(survey: RowSurvey, row: number, errorV: number): boolean {
  const { currentA } = survey.log;
  const now = currentA[row] ?? Number.NaN;
  const change = Math.max(Math.abs(now - (currentA[row - 1] ?? now)), Math.abs((currentA[row + 1] ?? now) - now));
  return change * skewOhm > 0.5 * errorV;
}

/** ohm. Healthy resistance of a group never taken larger than this for the skew test. Engineering default. */
const skewOhm = 0.001;

function isBalanced(mask: Float64Array | null, row: number, groups: readonly number[]): boolean {
  const bits = mask?.[row] ?? 0;
  if (!(bits > 0)) return false;
  return groups.some((group) =>
    [group - 1, group, group + 1].some((near) => near >= 1 && Math.floor(bits / 2 ** (near - 1)) % 2 === 1),
  );
}
