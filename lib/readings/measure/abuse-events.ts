import type { PackModel } from "@/lib/packs/pack-model";
import { type AbuseGates, defaultAbuseGates, dischargeLimits } from "@/lib/readings/measure/abuse-gates";
import { goesOn, isJoined } from "@/lib/readings/measure/joined-rows";
import { isBorneOut } from "@/lib/readings/measure/lone-reading";
import { median } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { storedEmpty } from "@/lib/readings/measure/stored-empty";
import { extremeInRow, rangeOf } from "@/lib/readings/measure/value-range";

export type AbuseKind =
  | "over-discharge"
  | "deep over-discharge"
  | "over-voltage"
  | "critical over-voltage"
  | "cold charge"
  | "hot charge"
  | "hot"
  | "over-current discharge"
  | "over-current charge"
  | "charger voltage too high"
  | "stored empty";

export interface AbuseEvents {
  readonly kind: AbuseKind;
  readonly groups: readonly number[];
  readonly count: number;
  readonly firstS: number;
  readonly lastS: number;
  readonly totalS: number;
  readonly worst: number;
  readonly unit: "V" | "degC" | "A" | "days";
  /** Rows of the events that lie in rest: an over-discharge seen at rest is one of the state, not of the load. */
  readonly restRows: number;
}

/** So short that a single reading may be all of it, though the rows lie close enough to show more. */
export function isBrief(
  { totalS }: AbuseEvents,
  { medianIntervalS }: RowSurvey,
  { overVoltageS }: AbuseGates,
): boolean {
  return totalS <= overVoltageS && medianIntervalS <= overVoltageS;
}

/** Use outside the model's limits: counted, timed and with its worst value. Facts first; whose doing it was comes later. */
export function abuseEvents(
  survey: RowSurvey,
  model: PackModel,
  doubtful: ReadonlySet<number>,
  probes: readonly Float64Array[],
  gates = defaultAbuseGates,
  emptyBelowV = gates.emptyV,
): AbuseEvents[] {
  const rated = survey.ratedCapacityAh;
  const low = dischargeLimits(model, gates);
  const coldest = (row: number) => extremeInRow(probes, row, Math.min, survey.gates.temperaturePlausibleC);
  const warmest = (row: number) => extremeInRow(probes, row, Math.max, survey.gates.temperaturePlausibleC);
  // One probe of three that alone is hot may be at fault; a cell plates where it is coldest, so the coldest sound probe counts.
  const typicalHeat = (row: number) =>
    probes.length < 3 ? warmest(row) : (median(probes.map((probe) => probe[row] ?? Number.NaN)) ?? Number.NaN);
  const tooCold = (celsius: number) => model.chargeMinTemperatureC - celsius;
  const tooHot = (celsius: number) => celsius - model.chargeMaxTemperatureC - gates.temperatureMarginK;
  // Most packs were never cold or hot: then no row has to be asked.
  const ranges = probes.map(rangeOf);
  const groupRange = { lowest: rangeOf(survey.lowestV).lowest, highest: rangeOf(survey.highestV).highest };
  const overV = model.cellMaxV + gates.overVoltageV;
  const criticalV = model.cellMaxV + gates.criticalOverV;
  const ofGroups = (limit: GroupLimit) => groupEvents(survey, groupRange, doubtful, limit);
  const current = (row: number) => survey.log.currentA[row] ?? Number.NaN;
  const charging = (row: number) => current(row) > 0.02 * rated;
  const pulseS = Math.max(model.peakSeconds, survey.medianIntervalS);
  const events = [
    ofGroups({
      kind: "over-discharge",
      side: "below",
      limitV: low.overV,
      underLoad: { limitV: low.overUnderLoadV, fromA: gates.deepLoadPerHour * rated },
      longerThanS: 1,
    }),
    ofGroups({
      kind: "deep over-discharge",
      side: "below",
      limitV: low.deepV,
      longerThanS: gates.deepS,
      calmA: gates.deepLoadPerHour * rated,
      aloneV: low.lethalV,
    }),
    ofGroups({ kind: "over-voltage", side: "above", limitV: overV, longerThanS: gates.overVoltageS }),
    ofGroups({
      kind: "critical over-voltage",
      side: "above",
      limitV: criticalV,
      longerThanS: gates.overVoltageS,
      aloneV: criticalV,
    }),
    ranges.some(({ lowest }) => tooCold(lowest) > 0)
      ? runs(survey, "cold charge", "degC", 60, (row) => (charging(row) ? tooCold(coldest(row)) : -1), coldest)
      : null,
    ranges.some(({ highest }) => tooHot(highest) > 0)
      ? runs(survey, "hot charge", "degC", 60, (row) => (charging(row) ? tooHot(typicalHeat(row)) : -1), typicalHeat)
      : null,
    ranges.some(({ highest }) => highest > gates.hotC)
      ? runs(survey, "hot", "degC", 60, (row) => warmest(row) - gates.hotC, warmest)
      : null,
    overCurrent(survey, "over-current discharge", gates.overCurrent * model.continuousDischargeA, pulseS),
    overCurrent(
      survey,
      "over-current discharge",
      gates.overCurrent * model.peakDischargeA,
      Math.max(1, survey.medianIntervalS),
    ),
    overCurrent(survey, "over-current charge", gates.overCurrent * model.chargeMaxA, 60),
    chargerTooHigh(survey, model, gates),
    emptyStay(survey, gates, emptyBelowV),
  ];
  return events.filter((event) => event !== null);
}

/** Current beyond a limit, A, for longer than it may last. Most packs never reach it: then no row has to be asked. */
function overCurrent(
  survey: RowSurvey,
  kind: "over-current discharge" | "over-current charge",
  limitA: number,
  longerThanS: number,
): AbuseEvents | null {
  const { currentA } = survey.log;
  const { lowest, highest } = rangeOf(currentA);
  const isDischarge = kind === "over-current discharge";
  if (!((isDischarge ? -lowest : highest) > limitA)) return null;
  const size = (row: number) => (isDischarge ? -1 : 1) * (currentA[row] ?? Number.NaN);
  return runs(survey, kind, "A", longerThanS, (row) => size(row) - limitA, size);
}

/**
 * The whole stack stands above its end voltage while current still flows in: the charger, not one group, is too high.
 * By the median group, because one full group in an unbalanced pack stands high with a proper charger too.
 */
function chargerTooHigh(survey: RowSurvey, model: PackModel, gates: AbuseGates): AbuseEvents | null {
  const limitV = model.cellMaxV + gates.chargerExcessV / model.groups;
  if (!(rangeOf(survey.referenceV).highest > limitV)) return null;
  return runs(
    survey,
    "charger voltage too high",
    "V",
    60,
    (row) =>
      (survey.log.currentA[row] ?? 0) > 0 || Number.isNaN(survey.log.currentA[row])
        ? (survey.referenceV[row] ?? Number.NaN) - limitV
        : -1,
    (row) => (survey.referenceV[row] ?? 0) * model.groups,
  );
}

function emptyStay(survey: RowSurvey, gates: AbuseGates, emptyBelowV: number): AbuseEvents | null {
  const stay = storedEmpty(survey, gates, emptyBelowV);
  if (stay === null) return null;
  const { firstS, lastS, totalS } = stay;
  const worst = totalS / 86400;
  return { kind: "stored empty", groups: [], count: 1, firstS, lastS, totalS, worst, unit: "days", restRows: 0 };
}

/** Runs of rows in which `excess` is positive and that last longer than `longerThanS`, or hold a row that counts alone. */
function runs(
  survey: RowSurvey,
  kind: AbuseKind,
  unit: AbuseEvents["unit"],
  longerThanS: number,
  excess: (row: number) => number,
  level: (row: number) => number,
  countsAlone: (row: number) => boolean = () => false,
  joins = isJoined,
): AbuseEvents | null {
  let count = 0;
  let totalS = 0;
  let firstS = 0;
  let lastS = 0;
  let worst = Number.NaN;
  let worstExcess = 0;
  let start = -1;
  let alone = false;
  for (let row = 0; row <= survey.log.rows; row += 1) {
    const now = row < survey.log.rows ? excess(row) : -1;
    if (now > 0 && (start < 0 || joins(survey, row))) {
      if (start < 0) start = row;
      alone ||= countsAlone(row);
      continue;
    }
    if (start >= 0) {
      const durationS = (survey.log.timeS[row - 1] ?? 0) - (survey.log.timeS[start] ?? 0);
      if ((durationS > longerThanS && row - start >= 2) || alone) {
        count += 1;
        totalS += durationS;
        if (count === 1) firstS = survey.log.timeS[start] ?? 0;
        lastS = survey.log.timeS[row - 1] ?? 0;
        for (let at = start; at < row; at += 1) {
          if (excess(at) <= worstExcess) continue;
          worstExcess = excess(at);
          worst = level(at);
        }
      }
    }
    start = now > 0 ? row : -1;
    alone = start >= 0 && countsAlone(row);
  }
  return count === 0 ? null : { kind, groups: [], count, firstS, lastS, totalS, worst, unit, restRows: 0 };
}

interface GroupLimit {
  readonly kind: AbuseKind;
  readonly side: "below" | "above";
  readonly limitV: number;
  readonly longerThanS: number;
  /** A. Time under a larger load does not count, time in which the logger slept through a rest does. */
  readonly calmA?: number;
  /** V that counts instead under a larger load than that, in A. */
  readonly underLoad?: { readonly limitV: number; readonly fromA: number };
  /** V from which one row counts that is borne out. */
  readonly aloneV?: number;
}

function groupEvents(
  survey: RowSurvey,
  range: { readonly lowest: number; readonly highest: number },
  doubtful: ReadonlySet<number>,
  { kind, side, limitV, longerThanS, calmA, underLoad, aloneV }: GroupLimit,
): AbuseEvents | null {
  const isBeyond = (volt: number, ofV: number) => (side === "below" ? volt < ofV : volt > ofV);
  if (!isBeyond(side === "below" ? range.lowest : range.highest, limitV)) return null;
  const found: AbuseEvents[] = [];
  let restRows = 0;
  const [low, high] = survey.gates.cellPlausibleV;
  for (const [index, column] of survey.log.cellVoltagesV.entries()) {
    if (doubtful.has(index + 1)) continue;
    const level = (row: number) => column[row] ?? Number.NaN;
    const limitOf = (row: number) =>
      underLoad !== undefined && Math.abs(survey.log.currentA[row] ?? 0) > underLoad.fromA ? underLoad.limitV : limitV;
    const excess = (row: number) =>
      level(row) >= low && level(row) <= high && isBeyond(level(row), limitOf(row))
        ? Math.abs(level(row) - limitV)
        : -1;
    const countsAlone = (row: number) =>
      aloneV !== undefined && isBeyond(level(row), aloneV) && isBorneOut(survey, index, row, side);
    const isCalm = (row: number) =>
      calmA === undefined ||
      (survey.restingS[row] ?? -1) >= 0 ||
      Math.abs(survey.log.currentA[row] ?? Number.NaN) <= calmA;
    const counted = (row: number) => (isCalm(row) || countsAlone(row) ? excess(row) : -1);
    const event = runs(
      survey,
      kind,
      "V",
      longerThanS,
      counted,
      level,
      countsAlone,
      calmA === undefined ? isJoined : goesOn,
    );
    if (event === null) continue;
    found.push({ ...event, groups: [index + 1] });
    for (let row = 0; row < survey.log.rows; row += 1)
      if (excess(row) > 0 && (survey.restingS[row] ?? -1) >= 60) restRows += 1;
  }
  const first = found[0];
  if (first === undefined) return null;
  const worst =
    side === "below" ? Math.min(...found.map((one) => one.worst)) : Math.max(...found.map((one) => one.worst));
  return {
    ...first,
    groups: found.flatMap((one) => one.groups),
    count: found.reduce((sum, one) => sum + one.count, 0),
    firstS: Math.min(...found.map((one) => one.firstS)),
    lastS: Math.max(...found.map((one) => one.lastS)),
    totalS: Math.max(...found.map((one) => one.totalS)),
    worst,
    restRows,
  };
}
