import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import { expectedHeatingKPerMin, type HeatingPack } from "@/lib/readings/measure/expected-heating";
import { leapsTogether } from "@/lib/readings/measure/heat-leaps";
import { lasts, probeNoiseK, riseUpTo, steepRise } from "@/lib/readings/measure/heat-rise";
import { heldHeat } from "@/lib/readings/measure/held-heat";
import { quietChange, type RowSurvey } from "@/lib/readings/measure/row-survey";
import { SlidingLowest } from "@/lib/readings/measure/sliding-lowest";
import { switchProbe } from "@/lib/readings/measure/switch-heat";
import type { TemperatureColumn } from "@/lib/readings/reading-log";

/** K. A step down by more than noise ends a rise. */
const noiseK = 0.3;
/** s, and sampling intervals: the longest stretch over which one rise is followed. */
const longestRiseS = 600;
const longestRiseIntervals = 5;

/**
 * Heat without a cause: a probe that warms at rest faster than the load before can explain, under load faster than the
 * pack's own losses can, or that becomes or stands hot at all.
 *
 * At rest for less than the spreading time the higher trigger applies, because heat of the load is still on its way.
 * The rise must be made of several samples and must last in the rows after. A probe that falls as nothing can cool is
 * not believed for an hour; a fall over a gap is cooling.
 */
export function heatOfCells(survey: RowSurvey, gates: AcuteGates, pack: HeatingPack): AcuteSign[] {
  const { log } = survey;
  const together = leapsTogether(survey, gates);
  return log.temperatures.flatMap((probe, place) => {
    const others = log.temperatures.filter((_, at) => at !== place).map(({ valuesC }) => valuesC);
    const leap = together.find(({ where }) => where === probe.name) ?? null;
    return firstOf(
      firstHeat(survey, probe, survey.gates.temperaturePlausibleC, gates, expectedOf(survey, pack, gates)),
      heldHeat(survey, probe, others, gates, survey.gates.temperaturePlausibleC[1]),
      leap,
    );
  });
}

/** The same of the probe on the switches, which is asked by limits of its own. */
export function heatOfSwitches(survey: RowSurvey, gates: AcuteGates, pack: HeatingPack): AcuteSign[] {
  const { log } = survey;
  if (log.mosfetTemperatureC === null) return [];
  const stage = { name: switchProbe, valuesC: log.mosfetTemperatureC };
  const own = gatesOfSwitches(gates);
  const cells = log.temperatures.map(({ valuesC }) => valuesC);
  const plausible = [survey.gates.temperaturePlausibleC[0], gates.switchNoTemperatureC] as const;
  const expected = expectedOf(survey, pack, gates);
  return firstOf(
    firstHeat(survey, stage, plausible, own, expected),
    heldHeat(survey, stage, cells, own, gates.switchNoTemperatureC),
  );
}

/** K per minute that the pack's own losses explain at a row. */
function expectedOf(survey: RowSurvey, pack: HeatingPack, { heatSpreadS }: AcuteGates): (row: number) => number {
  return (row) => expectedHeatingKPerMin(survey, pack, heatSpreadS, row);
}

/** Switches follow the load within a minute: how fast they warm under it, or just after, says nothing; how hot they get does. */
function gatesOfSwitches(gates: AcuteGates): AcuteGates {
  return {
    ...gates,
    hotC: gates.switchHotC,
    probeRailC: gates.switchNoTemperatureC,
    freshRestHeatingKPerMin: Number.POSITIVE_INFINITY,
    loadHeatingKPerMin: Number.POSITIVE_INFINITY,
  };
}

function firstOf(...signs: readonly (AcuteSign | null)[]): AcuteSign[] {
  return signs
    .filter((sign) => sign !== null)
    .toSorted((a, b) => a.row - b.row)
    .slice(0, 1);
}

function firstHeat(
  survey: RowSurvey,
  { name, valuesC }: TemperatureColumn,
  [low, high]: readonly [number, number],
  gates: AcuteGates,
  expected: (row: number) => number,
): AcuteSign | null {
  const { log, restingS, intervalS } = survey;
  const longestS = Math.max(longestRiseS, longestRiseIntervals * survey.medianIntervalS);
  // Lowest reading of the stretch looked back over: under it no rise can be large, and the walk back is spared.
  const lowest = new SlidingLowest(valuesC);
  const leastRiseK = Math.min(gates.impossibleFallK, (gates.restHeatingKPerMin * gates.heatingS) / 60);
  const leastOverNoiseK = gates.riseOverNoise * probeNoiseK(valuesC, low, high);
  let runStart = 0;
  let beforeRow = -1;
  let beforeC = Number.NaN;
  let beforeSegment = -1;
  let joined = false;
  let believedFromS = Number.NEGATIVE_INFINITY;
  const isUnloggedLoad = unloggedLoad(survey);
  for (let row = 0; row < log.rows; row += 1) {
    const warm = valuesC[row] ?? Number.NaN;
    const timeS = log.timeS[row] ?? 0;
    lowest.take(row);
    if ((intervalS[row] ?? 0) === 0 && timeS !== log.timeS[row - 1]) joined = false;
    const beyond =
      warm > high &&
      warm <= gates.noTemperatureC &&
      beforeC >= gates.leadsBeyondC &&
      beforeC < gates.probeRailC &&
      joined;
    if (!(warm >= low && warm <= high) && !beyond) continue;
    const step = warm - beforeC;
    const segment = log.segment[row] ?? 0;
    if (segment !== beforeSegment) believedFromS = Number.NEGATIVE_INFINITY;
    if (step <= -gates.impossibleFallK && joined) believedFromS = timeS + gates.notBelievedS;
    if (!(step >= -noiseK) || segment !== beforeSegment) runStart = row;
    beforeC = warm;
    beforeSegment = segment;
    joined = true;
    while (runStart < beforeRow && timeS - (log.timeS[runStart] ?? 0) > longestS) runStart += 1;
    beforeRow = row;
    const riseK = warm - lowest.lowestFrom(runStart);
    if (riseK < leastRiseK || timeS < believedFromS) continue;
    const resting = restingS[row] ?? -1;
    const underLoad = warm < gates.hotC && resting < gates.heatingS;
    if (underLoad && riseK < (gates.loadHeatingKPerMin * gates.heatingS) / 60) continue;
    const rise =
      riseUpTo(log.timeS, valuesC, runStart, row, gates) ??
      (warm >= gates.hotC ? steepRise(log.timeS, valuesC, runStart, row, [low, gates.probeRailC], gates) : null);
    if (rise === null || rise.riseK < leastOverNoiseK) continue;
    const kind = kindOf(rise, { warm, resting, row }, gates, expected, isUnloggedLoad);
    if (kind === null || !lasts(valuesC, row, warm - rise.riseK / 2, low)) continue;
    const before = warm - rise.riseK;
    return { kind, row, groups: [], before, after: warm, overS: rise.overS, where: name, confirmed: true };
  }
  return null;
}

function kindOf(
  rise: { readonly riseK: number; readonly overS: number },
  { warm, resting, row }: { readonly warm: number; readonly resting: number; readonly row: number },
  gates: AcuteGates,
  expected: (row: number) => number,
  isUnloggedLoad: (row: number, overS: number, settled: boolean) => boolean,
): AcuteSign["kind"] | null {
  const rate = (rise.riseK / rise.overS) * 60;
  if (resting >= rise.overS && !isUnloggedLoad(row, rise.overS, resting - rise.overS >= gates.heatSpreadS)) {
    const settled = resting - rise.overS >= gates.heatSpreadS;
    if (rate >= (settled ? gates.restHeatingKPerMin : gates.freshRestHeatingKPerMin)) return "rest-heating";
  }
  if (warm >= gates.hotC && rise.riseK >= gates.impossibleFallK) return "hot";
  if (rate < gates.loadHeatingKPerMin) return null;
  return rate >= gates.loadHeatingKPerMin + gates.lossMultiple * expected(row) ? "load-heating" : null;
}

/** V by which the group in the middle may move over a rise of heat where the logged current says that nothing flows: what warmth does to a cell is less. Engineering default. */
const restsWithinV = 0.015;

/**
 * Rows pass for rest whose voltage hardly moves from one to the next where no current was logged, or whose current is zero in the moment it was
 * read: a load that comes on slowly, or pulses between rows far apart, is none of them. Over a whole rise of heat it shows: the group in the middle
 * falls under a load, and in a rest that has settled it does not rise either. What fails by itself leaves the group in the middle where it was.
 */
function unloggedLoad({ log, referenceV }: RowSurvey): (row: number, overS: number, settled: boolean) => boolean {
  let quietV: number | null = null;
  return (row, overS, settled) => {
    quietV ??= log.currentA.some(Number.isFinite) ? restsWithinV : quietChange(referenceV);
    let from = row;
    while (from > 0 && (log.timeS[row] ?? 0) - (log.timeS[from] ?? 0) < overS) from -= 1;
    const movedV = (referenceV[row] ?? Number.NaN) - (referenceV[from] ?? Number.NaN);
    return movedV < -quietV || (settled && movedV > quietV);
  };
}
