import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { Evidence } from "@/lib/diagnosis/evidence";
import { screenForDanger } from "@/lib/diagnosis/stages/acute-screen";
import { dischargeAndSwitches, followCells } from "@/lib/diagnosis/stages/cells-and-joints";
import { isDirectionKnown, toldWithoutDirection, withoutDirection } from "@/lib/diagnosis/stages/direction";
import { screenMeasurements } from "@/lib/diagnosis/stages/measurement-faults";
import { gateSynchrony } from "@/lib/diagnosis/stages/synchrony";
import { useOutsideLimits } from "@/lib/diagnosis/stages/use-outside-limits";
import type { PackModel } from "@/lib/packs/pack-model";
import { type Both, inTurn } from "@/lib/readings/both";
import { dischargeLimits } from "@/lib/readings/measure/abuse-gates";
import { type FrozenLogRun, frozenLogRuns, withoutFrozenRows } from "@/lib/readings/measure/frozen-log";
import type { GroupStateFit } from "@/lib/readings/measure/group-state-fit";
import { heldGroupRuns } from "@/lib/readings/measure/held-groups";
import { openCircuitCurve } from "@/lib/readings/measure/open-circuit";
import { packSum } from "@/lib/readings/measure/pack-sum";
import { raisedFlags, raisedWords } from "@/lib/readings/measure/raised-flags";
import { type RowSurvey, surveyRows } from "@/lib/readings/measure/row-survey";
import { withStandingDraws } from "@/lib/readings/measure/standing-draw";
import { type StandingReading, standingReadings } from "@/lib/readings/measure/standing-readings";
import { rangeOf } from "@/lib/readings/measure/value-range";
import type { ReadingFileSummary, ReadingLog } from "@/lib/readings/reading-log";

/**
 * Measures a log in the order real logs force, each stage a module of its own: 1 columns, units and sign and 2 time are
 * done when the file is read (`read-readings.ts`, `assemble-time.ts`), 3 what is a value at all (`plausible-rows.ts`), 4 synchrony,
 * 5 danger, 6 measurement faults, 7 cells, joints and switches, 8 use outside the limits; 9, the verdict, is `stages/verdict.ts`.
 * Danger is looked for in the raw rows before anything is set aside, and the gate of stage 4 then asks the rows before it.
 */
export function gatherEvidence(
  log: ReadingLog,
  summary: ReadingFileSummary,
  model: PackModel,
  settings: DiagnosisSettings,
  both: Both = inTurn,
): Evidence {
  const raw = surveyRows(log, model.ratedCapacityAh, settings.measure, both);
  const { rawSum, acute, stillWarming, unfollowedFalls, nearZero, before } = screenForDanger(
    raw,
    model,
    settings,
    both,
  );
  const wholeLog = frozenLogRuns(before);
  const curve = openCircuitCurve(model);
  const frozenLog = [
    ...wholeLog,
    ...heldGroupRuns(before, curve).filter((run) => !wholeLog.some((whole) => overlap(whole, run))),
  ];
  // Groups that stand still are a finding of their own: their rows stay, for a group that stands drained is drained all the same.
  const survey = withStandingDraws(withoutFrozenRows(before, wholeLog), curve);
  const [{ sum, together, screened, discharge }, followed] = both(
    () => {
      const sum = survey === raw ? rawSum : packSum(survey);
      const together = gateSynchrony(survey);
      const { resistance } = together;
      const screened = screenMeasurements({ survey, resistance, sum, curve, nearZero }, settings);
      const discharge = dischargeAndSwitches(survey, screened.doubtfulGroups, model);
      return { sum, together, screened, discharge };
    },
    () => followCells(survey, curve),
  );
  const { soundProbes, ...faults } = screened;
  const analysed = { ...followed, ...discharge };
  const directionKnown = isDirectionKnown(summary, survey);
  const cells = directionKnown ? analysed : withoutDirection(analysed);
  // A generic curve bends elsewhere than the pack's own: with it an offset of charge may look like a shifted reading.
  const standing =
    curve?.source !== "pack model" ? [] : otherStanding(survey, cells.states, faults.doubtfulGroups, model, settings);
  const doubtfulGroups = new Set([...faults.doubtfulGroups, ...standing.flatMap(({ groups }) => groups)]);
  const use = useOutsideLimits(survey, { doubtfulGroups, soundProbes }, curve, model, settings);
  return {
    model,
    summary,
    settings,
    acute,
    stillWarming,
    unfollowedFalls,
    nearZero,
    survey,
    sum,
    curve,
    ...together,
    ...faults,
    standing,
    doubtfulGroups,
    frozenLog,
    flags: raisedFlags(survey.log),
    otherFlags: raisedWords(survey.log),
    ...cells,
    ...use,
    abuse: directionKnown ? use.abuse : toldWithoutDirection(use.abuse),
    directionKnown,
    lineOfRow: (row) => log.line[row] ?? 0,
  };
}

function overlap(one: FrozenLogRun, other: FrozenLogRun): boolean {
  return one.fromRow <= other.toRow && other.fromRow <= one.toRow;
}

/**
 * What the charge of the cells shows of their readings: a fault of measurement that stage 6 can only see against a pack voltage.
 * A group that reads drained or overcharged is never excused as one that only reads so: a dead group stands off by the
 * same volts throughout as well.
 */
function otherStanding(
  survey: RowSurvey,
  states: GroupStateFit | null,
  known: ReadonlySet<number>,
  model: PackModel,
  { verdict, abuse }: DiagnosisSettings,
): StandingReading[] {
  if (states === null) return [];
  const isWithin = (group: number) => {
    const { lowest, highest } = rangeOf(survey.log.cellVoltagesV[group - 1] ?? new Float64Array());
    return lowest > dischargeLimits(model, abuse).overV && highest < model.cellMaxV + abuse.criticalOverV;
  };
  return standingReadings(states, verdict.standingReadingV).filter(({ groups }) =>
    groups.every((group) => !known.has(group) && isWithin(group)),
  );
}
