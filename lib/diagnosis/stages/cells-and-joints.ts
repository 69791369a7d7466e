import type { PackModel } from "@/lib/packs/pack-model";
import { type CapacityBetweenRests, capacityBetweenRests } from "@/lib/readings/measure/capacity-between-rests";
import { type DischargeCapacity, fullDischarge } from "@/lib/readings/measure/discharge-capacity";
import { followCharge } from "@/lib/readings/measure/follow-charge";
import type { GroupStateFit } from "@/lib/readings/measure/group-state-fit";
import type { OpenCircuitCurve } from "@/lib/readings/measure/open-circuit";
import type { ReferenceCharge } from "@/lib/readings/measure/reference-charge";
import {
  type DrawnDrift,
  driftOfRests,
  driftOverAll,
  driftUnderDraws,
  type RestDrift,
  restDrift,
} from "@/lib/readings/measure/rest-drift";
import { type RestOffset, restOffsets } from "@/lib/readings/measure/rest-offsets";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { type Spread, spreadBySituation } from "@/lib/readings/measure/spread-by-situation";
import { type SwitchFault, switchFaults } from "@/lib/readings/measure/switch-logic";

/** What is told of every group without knowing whose readings are void. */
export interface CellsFollowed {
  readonly charge: ReferenceCharge | null;
  readonly states: GroupStateFit | null;
  readonly spreads: readonly Spread[];
  readonly restCapacity: CapacityBetweenRests | null;
  readonly restOffsets: readonly (RestOffset | null)[] | null;
  /** After 4 h of rest and over 44 h and more; and over a shorter rest, for strong leaks only. */
  readonly drift: RestDrift | null;
  readonly shortDrift: RestDrift | null;
  /** Each of the shorter rests alone, where there are several. */
  readonly restDrifts: readonly RestDrift[];
  /** Rests long enough for a strong leak at least through which a current flowed. */
  readonly drawnDrifts: readonly DrawnDrift[];
}

export interface CellsAndJoints extends CellsFollowed {
  readonly fullDischarge: DischargeCapacity | null;
  readonly switches: readonly SwitchFault[];
}

/**
 * Stage 7: charge, capacity and drift of every group. Resistance came out of the gate before. A strong leak shows over a shorter rest as
 * well; what relaxation is left in it can only set a sound pack apart, never clear a leaking one.
 */
export function followCells(survey: RowSurvey, curve: OpenCircuitCurve | null): CellsFollowed {
  const restDrifts = driftOfRests(survey, survey.gates.restForShortDriftS, survey.gates.shortDriftWindowS);
  const followed = curve === null ? null : followCharge(survey, curve);
  const { charge, states } = followed ?? { charge: null, states: null };
  return {
    charge,
    states,
    spreads: charge === null ? [] : spreadBySituation(survey, charge),
    restCapacity: curve === null ? null : capacityBetweenRests(survey, curve),
    restOffsets: curve === null ? null : restOffsets(survey, curve),
    drift: restDrift(survey),
    shortDrift: driftOverAll(restDrifts),
    restDrifts: restDrifts.length > 1 ? restDrifts : [],
    drawnDrifts: driftUnderDraws(survey, survey.gates.restForShortDriftS, survey.gates.shortDriftWindowS),
  };
}

/** Stage 7: the discharge from full to empty, which no group with void readings ends, and whether the switches obey. */
export function dischargeAndSwitches(
  survey: RowSurvey,
  voidGroups: ReadonlySet<number>,
  model: PackModel,
): Pick<CellsAndJoints, "fullDischarge" | "switches"> {
  return {
    fullDischarge: fullDischarge(survey, model.cellMaxV, model.cellMinV, voidGroups),
    switches: switchFaults(survey),
  };
}
