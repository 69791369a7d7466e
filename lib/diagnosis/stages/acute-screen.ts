import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { PackModel } from "@/lib/packs/pack-model";
import { type Both, inTurn } from "@/lib/readings/both";
import { heatOfCells, heatOfSwitches } from "@/lib/readings/measure/acute-heat";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import { fallenBesideHeat, silentBesideHeat } from "@/lib/readings/measure/fallen-beside-heat";
import { groupCollapses } from "@/lib/readings/measure/group-collapse";
import { firstRows } from "@/lib/readings/measure/log-part";
import { type NearZeroGroup, nearZeroGroups } from "@/lib/readings/measure/near-zero-groups";
import { packCollapses } from "@/lib/readings/measure/pack-collapse";
import { type PackSum, packSum } from "@/lib/readings/measure/pack-sum";
import { type RowSurvey, surveyRows } from "@/lib/readings/measure/row-survey";
import { type StillWarming, stillWarming } from "@/lib/readings/measure/self-heating";
import { type UnfollowedFall, unfollowedFalls } from "@/lib/readings/measure/unfollowed-fall";

export interface AcuteScreen {
  /** The pack voltage beside the sum of the groups, over all rows. */
  readonly rawSum: PackSum;
  /** Signs of an emergency, in order of time. */
  readonly acute: readonly AcuteSign[];
  /** Probes that still warm at rest where the log ends, as a warm place might do it; those that no place explains are signs. */
  readonly stillWarming: readonly StillWarming[];
  /** Falls of the pack voltage at rest that the groups do not follow; those beside groups that stand still are signs. */
  readonly unfollowedFalls: readonly UnfollowedFall[];
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
  model: PackModel,
  settings: DiagnosisSettings,
  both: Both = inTurn,
): AcuteScreen {
  const groupOhm = (model.groupResistanceMilliohm ?? groupMilliohmUntold) / 1000;
  const pack = {
    groupOhm,
    ratedCapacityAh: model.ratedCapacityAh,
    continuousA: model.continuousDischargeA,
  };
  const warm = withLeftOut(raw);
  const [ofVoltages, { ofCells, warming }] = both(
    () => {
      const rawSum = packSum(raw);
      const collapses = [
        ...packCollapses(raw, groupOhm * model.groups, settings.acute),
        ...groupCollapses(raw, rawSum.noiseV, settings.acute),
      ];
      return {
        rawSum,
        collapses,
        unfollowed: unfollowedFalls(raw, rawSum, settings.acute),
        nearZero: nearZeroGroups(raw),
        ofSwitches: heatOfSwitches(warm, settings.acute, pack),
      };
    },
    () => ({ ofCells: heatOfCells(warm, settings.acute, pack), warming: stillWarming(warm, settings.acute) }),
  );
  const ofHeat = [...ofCells, ...ofVoltages.ofSwitches];
  const [heat] = ofHeat.toSorted((a, b) => a.row - b.row);
  const fallen =
    heat === undefined ? [] : [...fallenBesideHeat(raw, heat, settings.acute), ...silentBesideHeat(raw, heat)];
  const itself = ofHeat.length > 0 ? [] : warming.flatMap(ofItself);
  const behindOldValues = ofVoltages.collapses.length > 0 ? [] : ofVoltages.unfollowed.flatMap(ofHeldGroups);
  const acute = [...ofVoltages.collapses, ...behindOldValues, ...ofHeat, ...itself, ...fallen].toSorted(
    (a, b) => a.row - b.row,
  );
  const nearZero = ofVoltages.nearZero.filter(({ group }) => !acute.some(({ groups }) => groups.includes(group)));
  const firstRow = Math.min(raw.log.rows, ...acute.map((sign) => sign.row));
  const before =
    firstRow < raw.log.rows
      ? surveyRows(firstRows(raw.log, firstRow), model.ratedCapacityAh, settings.measure, both)
      : raw;
  return {
    rawSum: ofVoltages.rawSum,
    acute,
    stillWarming: warming,
    unfollowedFalls: ofVoltages.unfollowed,
    nearZero,
    before,
  };
}

function ofHeldGroups({ groupsHeld, fromRow, asGroupsV, readsV, overS }: UnfollowedFall): AcuteSign[] {
  return groupsHeld
    ? [
        {
          kind: "held-groups",
          row: fromRow,
          groups: [],
          before: asGroupsV,
          after: readsV,
          overS,
          where: "",
          confirmed: false,
        },
      ]
    : [];
}

function ofItself({ where, row, before, after, overS, fasterThan, borneOut }: StillWarming): AcuteSign[] {
  return fasterThan === "any place"
    ? [{ kind: "self-heating", row, groups: [], before, after, overS, where, confirmed: borneOut }]
    : [];
}

/** A temperature that a person left out is no witness of anything else, and its heat is seen. */
function withLeftOut(raw: RowSurvey): RowSurvey {
  const { log } = raw;
  const { leftOutTemperatures: leftOut = [] } = log;
  return leftOut.length === 0 ? raw : { ...raw, log: { ...log, temperatures: [...log.temperatures, ...leftOut] } };
}

/** ohm. Taken for a group whose model does not tell. Engineering default. */
const groupMilliohmUntold = 2;
