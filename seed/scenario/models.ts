import {
  highPowerLayeredTable,
  ironPhosphateTable,
  nickelRichTable,
  type OpenCircuitTable,
} from "./open-circuit-tables";
import type { ScenarioModel } from "./scenario";
import { stableId } from "./stable-id";

interface ModelPlan {
  readonly code: string;
  readonly name: string;
  readonly chemistry: string;
  readonly groups: number;
  readonly parallel: number;
  readonly capacityAh: number;
  readonly cellNominalV: number;
  readonly cellV: readonly [number, number];
  /** Continuous, peak, charge. */
  readonly currentsA: readonly [number, number, number];
  readonly groupMilliohm: number;
  readonly cycles: number;
  readonly massKg: number;
  readonly table: OpenCircuitTable;
}

/** The three pack models of the invented maker. */
export function buildModels(): ScenarioModel[] {
  const plans: readonly ModelPlan[] = [
    {
      code: "BR",
      name: "Brindlepack 14",
      chemistry: "nickel-rich layered oxide / graphite",
      groups: 14,
      parallel: 8,
      capacityAh: 32,
      cellNominalV: 3.65,
      cellV: [2.8, 4.2],
      currentsA: [95, 160, 16],
      groupMilliohm: 1.25,
      cycles: 800,
      massKg: 11.4,
      table: nickelRichTable(),
    },
    {
      code: "GW",
      name: "Gorrowpack 18",
      chemistry: "high-power layered oxide / graphite",
      groups: 18,
      parallel: 2,
      capacityAh: 44,
      cellNominalV: 3.68,
      cellV: [2.8, 4.2],
      currentsA: [130, 220, 22],
      groupMilliohm: 0.9,
      cycles: 1000,
      massKg: 19.8,
      table: highPowerLayeredTable(),
    },
    {
      code: "TF",
      name: "Tarnfellpack 24",
      chemistry: "iron phosphate / graphite",
      groups: 24,
      parallel: 1,
      capacityAh: 50,
      cellNominalV: 3.2,
      cellV: [2.5, 3.6],
      currentsA: [120, 200, 25],
      groupMilliohm: 0.75,
      cycles: 2000,
      massKg: 31.5,
      table: ironPhosphateTable(),
    },
  ];
  return plans.map(modelOf);
}

function modelOf(plan: ModelPlan): ScenarioModel {
  const nominalV = Math.round(plan.groups * plan.cellNominalV * 10) / 10;
  return {
    id: stableId("model", plan.code, "2023-06-01T08:00:00Z"),
    code: plan.code,
    name: plan.name,
    chemistry: plan.chemistry,
    nominalV,
    energyWh: Math.round(nominalV * plan.capacityAh),
    massKg: plan.massKg,
    model: {
      groups: plan.groups,
      parallel: plan.parallel,
      ratedCapacityAh: plan.capacityAh,
      cellMinV: plan.cellV[0],
      cellMaxV: plan.cellV[1],
      continuousDischargeA: plan.currentsA[0],
      peakDischargeA: plan.currentsA[1],
      peakSeconds: 15,
      chargeMaxA: plan.currentsA[2],
      chargeMinTemperatureC: 0,
      chargeMaxTemperatureC: 45,
      cyclesTo80Percent: plan.cycles,
      groupResistanceMilliohm: plan.groupMilliohm,
      openCircuit: plan.table,
    },
  };
}
