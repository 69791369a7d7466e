import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import { constantTaps } from "@/lib/readings/measure/constant-tap";
import { type FrozenRun, frozenRuns } from "@/lib/readings/measure/frozen-values";
import type { GroupResistanceResult } from "@/lib/readings/measure/group-resistance";
import { leapsAtEnd } from "@/lib/readings/measure/heat-leaps";
import type { NearZeroGroup } from "@/lib/readings/measure/near-zero-groups";
import type { OpenCircuitCurve } from "@/lib/readings/measure/open-circuit";
import type { PackSum } from "@/lib/readings/measure/pack-sum";
import { type ReadingShift, readingShifts } from "@/lib/readings/measure/reading-shifts";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { switchProbeFault } from "@/lib/readings/measure/switch-heat";
import { type TapError, tapErrors } from "@/lib/readings/measure/tap-errors";
import { type ProbeFault, probeFaults } from "@/lib/readings/measure/temperature-probes";

export interface MeasurementFaults {
  readonly taps: readonly TapError[];
  readonly frozen: readonly FrozenRun[];
  readonly shifts: readonly ReadingShift[];
  readonly probeFaults: readonly ProbeFault[];
  /** The probe on the switches gives what is no temperature. */
  readonly switchProbe: ProbeFault | null;
  /** Groups whose readings are void: no verdict on their cells. */
  readonly doubtfulGroups: ReadonlySet<number>;
  /** Readings of the probes that are not at fault, degC; NaN from where one leapt to a heat that the file does not clear up. */
  readonly soundProbes: readonly Float64Array[];
}

/** What stage 6 needs of the stages before it. */
export interface BeforeMeasurementFaults {
  readonly survey: RowSurvey;
  readonly resistance: GroupResistanceResult;
  readonly sum: PackSum;
  readonly curve: OpenCircuitCurve | null;
  readonly nearZero: readonly NearZeroGroup[];
}

/** Stage 6, before any cell is judged: sense wires, held and shifted channels, temperature probes. */
export function screenMeasurements(
  { survey, resistance, sum, curve, nearZero }: BeforeMeasurementFaults,
  settings: DiagnosisSettings,
): MeasurementFaults {
  const frozen = frozenRuns(survey);
  // A reading that is held moves against the others like an open tap, but nothing at the tap is wrong.
  const taps = tapFaults(survey, excessOhm(survey, resistance), sum, curve, settings).filter(
    (tap) => !frozen.some((run) => tap.groups.includes(run.group)),
  );
  const shifts = readingShifts(survey, sum, !sampledAtOtherMoments(resistance));
  // A probe that reads heat before it reads its rail, and ends there, may have been hot: it is not told for shorted.
  const leaps = leapsAtEnd(survey, settings.acute);
  const mayBeHot = new Set(leaps.flatMap(({ where, passesHeat }) => (passesHeat ? [where] : [])));
  const faultyProbes = probeFaults(survey, settings.probe).filter(
    ({ probe, kind }) => !(kind === "short" && mayBeHot.has(probe)),
  );
  return {
    taps,
    frozen,
    shifts,
    probeFaults: faultyProbes,
    switchProbe: switchProbeFault(survey, settings.acute, settings.probe),
    doubtfulGroups: new Set([
      ...taps.flatMap((tap) => tap.groups),
      ...frozen.map((run) => run.group),
      ...shifts.flatMap((shift) => shift.groups),
      ...nearZero.flatMap(({ group, packVoltage }) => (packVoltage === "denies" ? [group] : [])),
    ]),
    soundProbes: survey.log.temperatures
      .filter((probe) => !faultyProbes.some((fault) => fault.probe === probe.name))
      .map(({ name, valuesC }) => beforeLeap(valuesC, leaps.find(({ where }) => where === name)?.hotFromRow)),
  };
}

/** What a probe leapt to in the last rows is heat or a jump, and no use of the pack either way. */
function beforeLeap(valuesC: Float64Array, hotFromRow: number | undefined): Float64Array {
  return hotFromRow === undefined ? valuesC : valuesC.map((warm, row) => (row < hotFromRow ? warm : Number.NaN));
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

function sampledAtOtherMoments(resistance: GroupResistanceResult): boolean {
  return resistance.outcome === "refused" && resistance.because === "other-moments";
}

function excessOhm(survey: RowSurvey, resistance: GroupResistanceResult): Float64Array {
  if (resistance.outcome === "refused") return new Float64Array(survey.groups);
  return resistance.resistance.excessMilliohm.map((excess) => (Number.isFinite(excess) ? excess / 1000 : 0));
}
