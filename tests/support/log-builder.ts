import type { ReadingFileSummary, ReadingLog, TemperatureColumn } from "@/lib/readings/reading-log";

export interface LogParts extends Partial<Omit<ReadingLog, "rows" | "timeS">> {
  readonly timeS: ArrayLike<number>;
}

/** A reading log in memory: what is not given was not measured. */
export function buildLog(parts: LogParts): ReadingLog {
  const rows = parts.timeS.length;
  const missing = () => new Float64Array(rows).fill(Number.NaN);
  return {
    segment: new Int32Array(rows),
    startUnixS: null,
    line: Int32Array.from({ length: rows }, (_, row) => row + 2),
    packVoltageV: missing(),
    currentA: missing(),
    cellVoltagesV: [],
    temperatures: [],
    ambientTemperatureC: null,
    mosfetTemperatureC: null,
    socPercent: null,
    cycleCount: null,
    netCapacityAh: null,
    chargeSwitch: null,
    dischargeSwitch: null,
    balancingMask: null,
    protectionFlags: null,
    otherFlags: null,
    insulationKiloohm: null,
    ...parts,
    rows,
    timeS: Float64Array.from(parts.timeS),
  };
}

export function probe(name: string, valuesC: ArrayLike<number>): TemperatureColumn {
  return { name, valuesC: Float64Array.from(valuesC) };
}

/** Times 0, interval, 2 · interval … in s. */
export function evenTimes(rows: number, intervalS: number): Float64Array {
  return Float64Array.from({ length: rows }, (_, row) => row * intervalS);
}

export function constant(rows: number, level: number): Float64Array {
  return new Float64Array(rows).fill(level);
}

export function summaryOf(log: ReadingLog, changes: Partial<ReadingFileSummary> = {}): ReadingFileSummary {
  return {
    rows: log.rows,
    rejected: [],
    rejectedNotListed: 0,
    groups: log.cellVoltagesV.length,
    currentSign: "charge-positive",
    coverage: 1,
    timeRepairs: 0,
    serialInFile: null,
    remarks: [],
    ...changes,
  };
}
