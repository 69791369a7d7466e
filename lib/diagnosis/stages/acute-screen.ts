import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { PackModel } from "@/lib/packs/pack-model";
import { acuteHeat } from "@/lib/readings/measure/acute-heat";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import { groupCollapses } from "@/lib/readings/measure/group-collapse";
import { firstRows } from "@/lib/readings/measure/log-part";
import { type NearZeroGroup, nearZeroGroups } from "@/lib/readings/measure/near-zero-groups";
import { packCollapses } from "@/lib/readings/measure/pack-collapse";
import type { PackSum } from "@/lib/readings/measure/pack-sum";
import { type RowSurvey, surveyRows } from "@/lib/readings/measure/row-survey";

export interface AcuteScreen {
  /** Signs of an emergency, in order of time. */
  readonly acute: readonly AcuteSign[];
  /** Groups near zero volts that no sign names. */
  readonly nearZero: readonly NearZeroGroup[];
  /** The rows before the first sign: what comes after says nothing of the pack as it was. */
  readonly before: RowSurvey;
}

/**
 * Stage 5, danger first. It reads the raw rows of the whole log, because an emergency consists of missing and impossible
 * values, and whoever cleans them away deletes it.
 */
export function screenForDanger(
  raw: RowSurvey,
  rawSum: PackSum,
  model: PackModel,
  settings: DiagnosisSettings,
): AcuteScreen {
  const acute = acuteSigns(raw, rawSum, model, settings);
  const nearZero = nearZeroGroups(raw).filter(({ group }) => !acute.some(({ groups }) => groups.includes(group)));
  const firstRow = Math.min(raw.log.rows, ...acute.map((sign) => sign.row));
  const before =
    firstRow < raw.log.rows ? surveyRows(firstRows(raw.log, firstRow), model.ratedCapacityAh, settings.measure) : raw;
  return { acute, nearZero, before };
}

/** ohm. Taken for a group whose model does not tell. Engineering default. */
const groupMilliohmUntold = 2;

function acuteSigns(raw: RowSurvey, sum: PackSum, model: PackModel, settings: DiagnosisSettings): AcuteSign[] {
  const groupOhm = (model.groupResistanceMilliohm ?? groupMilliohmUntold) / 1000;
  return [
    ...packCollapses(raw, groupOhm * model.groups, settings.acute),
    ...groupCollapses(raw, sum.noiseV, settings.acute),
    ...acuteHeat(raw, settings.acute, {
      groupOhm,
      ratedCapacityAh: model.ratedCapacityAh,
      continuousA: model.continuousDischargeA,
    }),
  ].toSorted((a, b) => a.row - b.row);
}
