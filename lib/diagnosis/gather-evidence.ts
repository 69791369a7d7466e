import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { Evidence } from "@/lib/diagnosis/evidence";
import type { PackModel } from "@/lib/packs/pack-model";
import { abuseEvents } from "@/lib/readings/measure/abuse-events";
import { acuteHeat } from "@/lib/readings/measure/acute-heat";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import { capacityBetweenRests } from "@/lib/readings/measure/capacity-between-rests";
import { constantTaps } from "@/lib/readings/measure/constant-tap";
import { fullDischarge } from "@/lib/readings/measure/discharge-capacity";
import { frozenRuns } from "@/lib/readings/measure/frozen-values";
import { groupCollapses } from "@/lib/readings/measure/group-collapse";
import { type GroupResistanceResult, groupResistance } from "@/lib/readings/measure/group-resistance";
import { fitGroupStates } from "@/lib/readings/measure/group-state-fit";
import { firstRows } from "@/lib/readings/measure/log-part";
import { quantile } from "@/lib/readings/measure/median";
import { nearZeroGroups } from "@/lib/readings/measure/near-zero-groups";
import { type OpenCircuitCurve, openCircuitCurve, voltageAtSoc } from "@/lib/readings/measure/open-circuit";
import { packCollapses } from "@/lib/readings/measure/pack-collapse";
import { type PackSum, packSum } from "@/lib/readings/measure/pack-sum";
import { readingShifts } from "@/lib/readings/measure/reading-shifts";
import { referenceCharge } from "@/lib/readings/measure/reference-charge";
import { restDrift } from "@/lib/readings/measure/rest-drift";
import { restOffsets } from "@/lib/readings/measure/rest-offsets";
import { type RowSurvey, surveyRows } from "@/lib/readings/measure/row-survey";
import { spreadBySituation } from "@/lib/readings/measure/spread-by-situation";
import { staleShare } from "@/lib/readings/measure/stale-groups";
import { stepCorrelation } from "@/lib/readings/measure/step-correlation";
import { switchFaults } from "@/lib/readings/measure/switch-logic";
import { type TapError, tapErrors } from "@/lib/readings/measure/tap-errors";
import { probeFaults } from "@/lib/readings/measure/temperature-probes";
import type { ReadingFileSummary, ReadingLog } from "@/lib/readings/reading-log";

/** s. A strong leak shows over a shorter rest than the standard one; relaxation must still be over. */
const shortRest = { waitS: 2 * 3600, windowS: 8 * 3600 };

/**
 * Measures a log in the order real logs force: the acute screen on raw rows, then measurement faults, then cells and
 * joints (without the groups whose readings are void), then use outside the limits.
 */
export function gatherEvidence(
  log: ReadingLog,
  summary: ReadingFileSummary,
  model: PackModel,
  settings: DiagnosisSettings,
): Evidence {
  const raw = surveyRows(log, model.ratedCapacityAh, settings.measure);
  const rawSum = packSum(raw);
  const acute = acuteScreen(raw, rawSum, model, settings);
  // Raw rows as well: a group at zero volts is no bad data until something says so.
  const nearZero = nearZeroGroups(raw).filter(({ group }) => !acute.some(({ groups }) => groups.includes(group)));
  const firstAcuteRow = Math.min(log.rows, ...acute.map((sign) => sign.row));
  const survey =
    firstAcuteRow < log.rows ? surveyRows(firstRows(log, firstAcuteRow), model.ratedCapacityAh, settings.measure) : raw;

  const resistance = judgeResistance(survey);
  const sum = survey === raw ? rawSum : packSum(survey);
  const curve = openCircuitCurve(model);
  const frozen = frozenRuns(survey);
  // A reading that is held moves against the others like an open tap, but nothing at the tap is wrong.
  const taps = tapFaults(survey, excessOhm(survey, resistance), sum, curve, settings).filter(
    (tap) => !frozen.some((run) => tap.groups.includes(run.group)),
  );
  const shifts = readingShifts(survey, sum);
  const doubtfulGroups = new Set([
    ...taps.flatMap((tap) => tap.groups),
    ...frozen.map((run) => run.group),
    ...shifts.flatMap((shift) => shift.groups),
    ...nearZero.flatMap(({ group, packVoltage }) => (packVoltage === "denies" ? [group] : [])),
  ]);
  const faultyProbes = probeFaults(survey, settings.probe);
  const soundProbes = survey.log.temperatures
    .filter((probe) => !faultyProbes.some((fault) => fault.probe === probe.name))
    .map((probe) => probe.valuesC);

  const charge = curve === null ? null : referenceCharge(survey, curve);
  return {
    model,
    summary,
    settings,
    acute,
    survey,
    sum,
    taps,
    probeFaults: faultyProbes,
    frozen,
    shifts,
    doubtfulGroups,
    nearZero,
    resistance: resistance.result,
    stepCorrelation: resistance.correlation,
    sumCorrelation:
      resistance.result.outcome === "refused"
        ? null
        : stepCorrelation(survey, resistance.result.resistance.rows, survey.sumV),
    curve,
    charge,
    states: charge === null ? null : fitGroupStates(survey, charge),
    restCapacity: curve === null ? null : capacityBetweenRests(survey, curve),
    restOffsets: curve === null ? null : restOffsets(survey, curve),
    fullDischarge: fullDischarge(survey, model.cellMaxV, model.cellMinV),
    drift: restDrift(survey),
    shortDrift: restDrift(survey, shortRest.waitS, shortRest.windowS),
    spreads: charge === null ? [] : spreadBySituation(survey, charge),
    abuse: abuseEvents(survey, model, doubtfulGroups, soundProbes, settings.abuse, emptyBelowV(curve, settings)),
    switches: switchFaults(survey),
    largestLoadA:
      quantile(
        survey.log.currentA.map((current) => Math.max(0, -current)),
        0.999,
      ) ?? 0,
    lineOfRow: (row) => log.line[row] ?? 0,
  };
}

function acuteScreen(raw: RowSurvey, sum: PackSum, model: PackModel, settings: DiagnosisSettings): AcuteSign[] {
  const groupOhm = (model.groupResistanceMilliohm ?? 2) / 1000;
  return [
    ...packCollapses(raw, groupOhm * model.groups, settings.acute),
    ...groupCollapses(raw, sum.noiseV, settings.acute),
    ...acuteHeat(raw, settings.acute),
  ].toSorted((a, b) => a.row - b.row);
}

function judgeResistance(survey: RowSurvey): { result: GroupResistanceResult; correlation: number | null } {
  const result = groupResistance(survey);
  if (result.outcome === "refused") return { result, correlation: null };
  const correlation = stepCorrelation(survey, result.resistance.rows);
  const ohm = expectedOhm(survey, result.resistance.packMilliohm, result.resistance.medianMilliohm);
  const stale = staleShare(survey, result.resistance.rows, ohm);
  if (stale !== null && stale > survey.gates.staleShare) {
    return {
      result: {
        outcome: "refused",
        reason: `at ${(stale * 100).toFixed(0)} % of the load steps the groups repeat their last value: the monitor refreshes a few of them at a time`,
      },
      correlation,
    };
  }
  if (correlation !== null && correlation >= survey.gates.synchronyCorrelation) return { result, correlation };
  return {
    result: {
      outcome: "refused",
      reason: `group voltages do not move with the current in the same row (correlation ${(correlation ?? 0).toFixed(2)}): they were sampled at other moments`,
    },
    correlation,
  };
}

/** Voltage below which a rested group counts as empty: by the model's own curve where it is known. */
function emptyBelowV(curve: OpenCircuitCurve | null, settings: DiagnosisSettings): number {
  if (curve?.source !== "pack model") return settings.abuse.emptyV;
  return Math.max(settings.abuse.emptyV, voltageAtSoc(curve, settings.abuse.emptyPercent));
}

/** The pack voltage is sampled by itself: where the groups are late it still tells what they should have moved by. */
function expectedOhm(survey: RowSurvey, packMilliohm: number | null, medianMilliohm: number): number {
  const fromPack = packMilliohm === null ? 0 : (0.7 * packMilliohm) / survey.groups;
  return Math.max(fromPack, medianMilliohm) / 1000;
}

/** A tap that jumps and a tap that is wrong throughout: the same pair is reported once. */
function tapFaults(
  survey: RowSurvey,
  ohm: Float64Array,
  sum: PackSum,
  curve: OpenCircuitCurve | null,
  settings: DiagnosisSettings,
): TapError[] {
  const jumping = tapErrors(survey, ohm, sum, curve, settings.tap);
  const constant = constantTaps(survey).filter(
    (tap) => !jumping.some((other) => other.groups.some((group) => tap.groups.includes(group))),
  );
  return [...jumping, ...constant];
}

function excessOhm(survey: RowSurvey, resistance: { result: GroupResistanceResult }): Float64Array {
  if (resistance.result.outcome === "refused") return new Float64Array(survey.groups);
  return resistance.result.resistance.excessMilliohm.map((excess) => (Number.isFinite(excess) ? excess / 1000 : 0));
}
