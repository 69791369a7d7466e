import type { PackModel } from "@/lib/packs/pack-model";
import { type CapacityBetweenRests, capacityBetweenRests } from "@/lib/readings/measure/capacity-between-rests";
import { type DischargeCapacity, fullDischarge } from "@/lib/readings/measure/discharge-capacity";
import { fitGroupStates, type GroupStateFit } from "@/lib/readings/measure/group-state-fit";
import type { OpenCircuitCurve } from "@/lib/readings/measure/open-circuit";
import { type ReferenceCharge, referenceCharge } from "@/lib/readings/measure/reference-charge";
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

/** What is told of the cells by the charge of the group in the middle. */
export interface ChargeOfCells {
  readonly charge: ReferenceCharge | null;
  readonly states: GroupStateFit | null;
  readonly spreads: readonly Spread[];
}

export interface CellsAtRest {
  readonly restCapacity: CapacityBetweenRests | null;
  readonly restOffsets: readonly (RestOffset | null)[] | null;
  readonly fullDischarge: DischargeCapacity | null;
  /** After 4 h of rest and over 44 h and more; and over a shorter rest, for strong leaks only. */
  readonly drift: RestDrift | null;
  readonly shortDrift: RestDrift | null;
  /** Each of the shorter rests alone, where there are several. */
  readonly restDrifts: readonly RestDrift[];
  /** Rests long enough for a strong leak at least through which a current flowed. */
  readonly drawnDrifts: readonly DrawnDrift[];
  readonly switches: readonly SwitchFault[];
}

export type CellsAndJoints = ChargeOfCells & CellsAtRest;

/** Stage 7: the charge of every group throughout the log. Resistance came out of the gate before. */
export function followCells(survey: RowSurvey, curve: OpenCircuitCurve | null): ChargeOfCells {
  const charge = curve === null ? null : referenceCharge(survey, curve);
  return {
    charge,
    states: charge === null ? null : fitGroupStates(survey, charge, curve?.source === "pack model"),
    spreads: charge === null ? [] : spreadBySituation(survey, charge),
  };
}

/**
 * Stage 7: capacity and drift of every group, and whether the switches obey. A strong leak shows over a shorter rest as well; what
 * relaxation is left in it can only set a sound pack apart, never clear a leaking one. Groups whose readings stage 6 made void end no
 * discharge.
 */
export function cellsAtRest(
  survey: RowSurvey,
  voidGroups: ReadonlySet<number>,
  curve: OpenCircuitCurve | null,
  model: PackModel,
): CellsAtRest {
  const restDrifts = driftOfRests(survey, survey.gates.restForShortDriftS, survey.gates.shortDriftWindowS);
  return {
    restCapacity: curve === null ? null : capacityBetweenRests(survey, curve),
    restOffsets: curve === null ? null : restOffsets(survey, curve),
    fullDischarge: fullDischarge(survey, model.cellMaxV, model.cellMinV, voidGroups),
    drift: restDrift(survey),
    shortDrift: driftOverAll(restDrifts),
    restDrifts: restDrifts.length > 1 ? restDrifts : [],
    drawnDrifts: driftUnderDraws(survey, survey.gates.restForShortDriftS, survey.gates.shortDriftWindowS),
    switches: switchFaults(survey),
  };
}
