import type { PackModel } from "@/lib/packs/pack-model";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { column, readCheckColumns } from "./check-columns";
import { buildLog } from "./log-builder";

/**
 * An extract of the open vehicle packs (BatICM/unsupervised-battery-faults @57bb1c0, MIT; Nie et al., Energy 323 (2025)
 * 135754) as a log: 87 groups, its current is positive when discharging, its probes count degC + 40.
 */
export function openVehiclePack(relative: string): ReadingLog | null {
  const columns = readCheckColumns(relative);
  if (columns === null) return null;
  const cells = Object.keys(columns).filter((name) => /^c\d+_V$/.test(name));
  const probes = Object.keys(columns).filter((name) => /^t\d+_raw$/.test(name));
  return buildLog({
    timeS: column(columns, "seconds"),
    currentA: column(columns, "current_A_discharge_positive").map((discharge) => -discharge),
    packVoltageV: column(columns, "pack_V"),
    socPercent: column(columns, "soc_percent"),
    cellVoltagesV: cells.map((name) => column(columns, name)),
    temperatures: probes.map((name) => ({ name, valuesC: column(columns, name).map((raw) => raw - 40) })),
  });
}

/** What is known of that vehicle from the file alone; capacity and currents are guesses good enough to scale by. */
export const vehicleModel: PackModel = {
  groups: 87,
  parallel: 1,
  ratedCapacityAh: 150,
  cellMaxV: 4.2,
  cellMinV: 2.8,
  continuousDischargeA: 150,
  peakDischargeA: 300,
  peakSeconds: 10,
  chargeMaxA: 100,
  chargeMinTemperatureC: 0,
  chargeMaxTemperatureC: 45,
  cyclesTo80Percent: 1000,
};
