import type { ReadingLog } from "@/lib/readings/reading-log";

/** The first `rows` rows of a log, as views: nothing is copied. */
export function firstRows(log: ReadingLog, rows: number): ReadingLog {
  if (rows >= log.rows) return log;
  const cut = (column: Float64Array) => column.subarray(0, rows);
  const cutOrNull = (column: Float64Array | null) => (column === null ? null : cut(column));
  return {
    rows,
    timeS: cut(log.timeS),
    segment: log.segment.subarray(0, rows),
    startUnixS: log.startUnixS,
    line: log.line.subarray(0, rows),
    packVoltageV: cut(log.packVoltageV),
    currentA: cut(log.currentA),
    cellVoltagesV: log.cellVoltagesV.map(cut),
    temperatures: log.temperatures.map(({ name, valuesC }) => ({ name, valuesC: cut(valuesC) })),
    ...(log.leftOutTemperatures === undefined
      ? {}
      : { leftOutTemperatures: log.leftOutTemperatures.map(({ name, valuesC }) => ({ name, valuesC: cut(valuesC) })) }),
    ambientTemperatureC: cutOrNull(log.ambientTemperatureC),
    mosfetTemperatureC: cutOrNull(log.mosfetTemperatureC),
    socPercent: cutOrNull(log.socPercent),
    cycleCount: cutOrNull(log.cycleCount),
    netCapacityAh: cutOrNull(log.netCapacityAh),
    chargeSwitch: cutOrNull(log.chargeSwitch),
    dischargeSwitch: cutOrNull(log.dischargeSwitch),
    balancingMask: cutOrNull(log.balancingMask),
    protectionFlags: cutOrNull(log.protectionFlags),
    otherFlags: cutOrNull(log.otherFlags),
    insulationKiloohm: cutOrNull(log.insulationKiloohm),
  };
}
