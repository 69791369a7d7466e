import { median, quantile } from "@/lib/readings/measure/median";
import { type OpenCircuitCurve, slopeAtSoc, socAtVoltage } from "@/lib/readings/measure/open-circuit";
import type { PackSum } from "@/lib/readings/measure/pack-sum";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { samplingSkewOhm } from "@/lib/readings/measure/sampling-skew";
import { comesAndGoes, isBalanced, isSkewed } from "@/lib/readings/measure/tap-excuses";
import { type TapRow, tapRowKind } from "@/lib/readings/measure/tap-row";

/** Signature of a tap (sense wire) that does not hold its potential. */
export interface TapError {
  readonly kind: TapRow["kind"] | "constant";
  /** Groups whose readings are void: the two beside the tap, three between two taps, or the end group. */
  readonly groups: readonly number[];
  readonly rows: number;
  /** Of these, rows in which no current flows: nothing shakes a pack that stands. */
  readonly restRows: number;
  readonly rowsJudged: number;
  /** Largest error of the tap, V. */
  readonly worstV: number;
  readonly firstRow: number;
  readonly lastRow: number;
}

export interface TapGates {
  /** V. Half the difference of the two neighbours. A little under the usual 50 mV: 20 mV gave no false pair in the open vehicle packs. */
  readonly leastErrorV: number;
  /** Rows with the signature. */
  readonly rowsNeeded: number;
  /** % of charge by which neighbours may differ in opposite directions: at a steep place of the curve that is a voltage. */
  readonly chargeApartPercent: number;
  /** Rows at rest in which taps side by side must jump to count as wet, and share they are of all rows in which these do. */
  readonly wetRestRows: number;
  readonly wetRestShare: number;
}

/** Engineering defaults; 0 rows in 95,872 of three open vehicle packs meet them (BatICM/unsupervised-battery-faults). */
export const defaultTapGates: TapGates = {
  leastErrorV: 0.045,
  rowsNeeded: 3,
  chargeApartPercent: 3,
  wetRestRows: 20,
  wetRestShare: 0.8,
};

/** A pair this rarely seen beside a pair seen often is its echo, not a second fault. Engineering default. */
const echoShare = 0.2;
/** Rows after which a pair need not prove again that its error comes and goes. */
const provenRows = 500;

/**
 * Rows in which a tap error shows: V_j up by d, V_j+1 down by d, the sum and the pack voltage untouched.
 *
 * Each group's own baseline and its extra resistance are taken off first, so that an old imbalance or a high-resistance
 * neighbour is not read as wiring. The error must come and go: charge does not jump. Rows whose load changes so fast
 * that skewed sampling could do it are left out, and so are rows in which a group concerned is being balanced.
 */
export function tapErrors(
  survey: RowSurvey,
  excessOhm: Float64Array,
  sum: PackSum,
  curve: OpenCircuitCurve | null,
  gates = defaultTapGates,
): TapError[] {
  const baseline = baselines(survey, excessOhm);
  const tallies = new Map<string, Tally>();
  const deviations = new Float64Array(survey.groups);
  const { log, referenceV } = survey;
  const offAt = (index: number, row: number) =>
    (log.cellVoltagesV[index]?.[row] ?? Number.NaN) -
    (referenceV[row] ?? Number.NaN) -
    (baseline.voltV[index] ?? 0) -
    loadV(excessOhm[index] ?? 0, log.currentA[row]);
  const skewOhm = samplingSkewOhm(survey);
  let judged = 0;
  for (let row = 0; row < log.rows; row += 1) {
    const reference = referenceV[row] ?? Number.NaN;
    if (!Number.isFinite(reference)) continue;
    judged += 1;
    const reach = Math.max((survey.highestV[row] ?? 0) - reference, reference - (survey.lowestV[row] ?? 0));
    if (reach + baseline.largestV < gates.leastErrorV) continue;
    let largest = 0;
    for (let index = 0; index < survey.groups; index += 1) {
      const off = offAt(index, row);
      deviations[index] = off;
      if (Math.abs(off) > largest) largest = Math.abs(off);
    }
    if (largest < gates.leastErrorV) continue;
    const leastV = Math.max(gates.leastErrorV, gates.chargeApartPercent * slopeAt(curve, reference));
    const found = tapRowKind(deviations, leastV, sumShift(survey, sum, row), sum.noiseV);
    if (found === null || isSkewed(survey, row, found.errorV, skewOhm)) continue;
    if (isBalanced(log.balancingMask, row, found.groups)) continue;
    if (mayBalance(survey, row) && found.errorV < balancingErrorV) continue;
    const key = `${found.kind}:${found.groups.join(",")}`;
    const proven = (tallies.get(key)?.rows ?? 0) >= provenRows;
    if (proven || comesAndGoes(survey, offAt, row, found))
      tally(tallies, key, found, row, (survey.restingS[row] ?? -1) >= 0);
  }
  return settle(tallies, judged, gates);
}

/** V. What a balancing current may shift a tap by in its lead, and how far below its highest a charging pack balances. */
const balancingErrorV = 0.09;
const balancingWithinV = 0.2;

/** Without a mask a pack that charges near its top may be balancing: bleed currents in the leads look like small tap errors. */
function mayBalance(survey: RowSurvey, row: number): boolean {
  const { log } = survey;
  if (log.balancingMask !== null || !((log.currentA[row] ?? 0) > survey.restCurrentA)) return false;
  return (survey.highestV[row] ?? 0) >= (quantile(survey.highestV, 0.999, 5000) ?? 0) - balancingWithinV;
}

/** V per % where the pack stands; 0 where no curve is known. */
function slopeAt(curve: OpenCircuitCurve | null, referenceV: number): number {
  return curve === null ? 0 : slopeAtSoc(curve, Math.max(0, socAtVoltage(curve, referenceV)));
}

interface Tally {
  readonly kind: TapRow["kind"];
  readonly groups: readonly number[];
  rows: number;
  restRows: number;
  worstV: number;
  readonly firstRow: number;
  lastRow: number;
}

function tally(tallies: Map<string, Tally>, key: string, found: TapRow, row: number, rests: boolean): void {
  const known = tallies.get(key);
  if (known === undefined) {
    const { kind, groups, errorV } = found;
    tallies.set(key, { kind, groups, rows: 1, restRows: rests ? 1 : 0, worstV: errorV, firstRow: row, lastRow: row });
    return;
  }
  known.rows += 1;
  if (rests) known.restRows += 1;
  known.lastRow = row;
  known.worstV = Math.max(known.worstV, found.errorV);
}

function settle(tallies: Map<string, Tally>, rowsJudged: number, gates: TapGates): TapError[] {
  const sorted = [...tallies.values()].toSorted((a, b) => b.rows - a.rows);
  const most = sorted[0]?.rows ?? 0;
  const taken: TapError[] = [];
  for (const one of sorted) {
    if (one.rows < gates.rowsNeeded || one.rows < echoShare * most) continue;
    const shared = taken.some(
      (other) => other.groups.some((group) => one.groups.includes(group)) && one.rows < 0.5 * other.rows,
    );
    if (!shared) taken.push({ ...one, rowsJudged });
  }
  return taken;
}

/** V that the load takes across so many ohm; NaN in a row that lacks its current, unless it takes nothing: where none was logged, no ohm are known. */
function loadV(excessOhm: number, ampere: number | undefined): number {
  return excessOhm === 0 ? 0 : excessOhm * (ampere ?? Number.NaN);
}

function baselines(survey: RowSurvey, excessOhm: Float64Array) {
  const stride = Math.max(1, Math.floor(survey.log.rows / 2000));
  const voltV = new Float64Array(survey.groups);
  let largestV = 0;
  for (const [index, column] of survey.log.cellVoltagesV.entries()) {
    const sample: number[] = [];
    for (let row = 0; row < survey.log.rows; row += stride) {
      const load = loadV(excessOhm[index] ?? 0, survey.log.currentA[row]);
      sample.push((column[row] ?? Number.NaN) - (survey.referenceV[row] ?? Number.NaN) - load);
    }
    voltV[index] = median(sample) ?? 0;
    largestV = Math.max(largestV, Math.abs(voltV[index] ?? 0));
  }
  return { voltV, largestV };
}

function sumShift(survey: RowSurvey, sum: PackSum, row: number): number {
  const pack = survey.log.packVoltageV[row] ?? Number.NaN;
  const load = loadV(sum.outsideOhm, survey.log.currentA[row]);
  return (survey.sumV[row] ?? Number.NaN) - pack - sum.baselineV + load;
}
