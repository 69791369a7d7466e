import type { ReadingLog } from "@/lib/readings/reading-log";

/** A lithium-ion cell outside this range is a measurement fault or an emergency, never a plain reading (engineering default, no authority). */
export const usableCellV = { least: 0.5, most: 5 } as const;
/** Range of a thermistor on a pack, degC (engineering default, no authority). */
export const usableTemperatureC = { least: -40, most: 150 } as const;
/** A cell that is really gone takes at least this much of the pack voltage with it, V (engineering default, no authority). */
const lostCellV = 2.5;
/** Below this the pack counts as unloaded, A: a load could explain a fall of the pack voltage (engineering default, no authority). */
const unloadedA = 1;

/** What is usable for measuring. The log itself stays as it was logged: the screen for acute danger must see every row. */
export interface ValidityMasks {
  /** Per series group, 1 where the voltage of the row is usable. Missing values are not. */
  readonly cellUsable: readonly Uint8Array[];
  /** Per temperature column of the log, 1 where usable. */
  readonly temperatureUsable: readonly Uint8Array[];
  /** 1 where a message was cut off: zeros from some group to the last one while the pack voltage stands. No voltage of it is used. */
  readonly truncatedRow: Uint8Array;
  /** 1 where cells went out of range and the unloaded pack voltage fell with them: a real event, not bad data. */
  readonly packFellWithCells: Uint8Array;
  readonly truncatedRows: number;
  /** Values outside the range, truncated rows left out. */
  readonly cellsOutOfRange: number;
  readonly temperaturesOutOfRange: number;
}

/**
 * Marks which values of a log may be measured with.
 *
 * A cell outside 0.5 to 5 V or a temperature outside -40 to 150 degC is not usable; that catches the "no sensor" numbers seen in open
 * data (65.535 and 66.535 V; 255 and 511 raw). Cells of exactly zero from some group up to the last, while the pack voltage keeps its
 * value, are a truncated message (seen in the open vehicle packs of the BatICM repository, MIT licence).
 */
export function validityMasks(log: ReadingLog): ValidityMasks {
  const truncatedRow = truncatedRows(log);
  let cellsOutOfRange = 0;
  const lost = new Int32Array(log.rows);
  const cellUsable = log.cellVoltagesV.map((cell) => {
    const usable = new Uint8Array(log.rows);
    for (let row = 0; row < log.rows; row++) {
      const voltageV = cell[row] ?? Number.NaN;
      if (truncatedRow[row] === 1) continue;
      if (voltageV >= usableCellV.least && voltageV <= usableCellV.most) usable[row] = 1;
      else lost[row] = (lost[row] ?? 0) + 1;
      if (voltageV < usableCellV.least || voltageV > usableCellV.most) cellsOutOfRange++;
    }
    return usable;
  });
  let temperaturesOutOfRange = 0;
  const temperatureUsable = log.temperatures.map(({ valuesC }) => {
    const usable = new Uint8Array(log.rows);
    valuesC.forEach((temperatureC, row) => {
      if (temperatureC >= usableTemperatureC.least && temperatureC <= usableTemperatureC.most) usable[row] = 1;
      else if (!Number.isNaN(temperatureC)) temperaturesOutOfRange++;
    });
    return usable;
  });
  return {
    cellUsable,
    temperatureUsable,
    truncatedRow,
    packFellWithCells: packFellWithCells(log, lost, truncatedRow),
    truncatedRows: truncatedRow.reduce((sum, flag) => sum + flag, 0),
    cellsOutOfRange,
    temperaturesOutOfRange,
  };
}

/**
 * A cut message is told from dead cells by the pack voltage: it still fits the cells that do have values, each zero standing for one more
 * cell like them, by the difference between sum and pack voltage that the pack had before (real packs keep one of several volts).
 */
function truncatedRows({ rows, cellVoltagesV, packVoltageV }: ReadingLog): Uint8Array {
  const truncated = new Uint8Array(rows);
  const groups = cellVoltagesV.length;
  const last = cellVoltagesV[groups - 1];
  if (groups < 2 || last === undefined) return truncated;
  const sumUpTo = (row: number, end: number) =>
    cellVoltagesV.slice(0, end).reduce((sum, cell) => sum + (cell[row] ?? Number.NaN), 0);
  let goodRow = -1;
  for (let row = 0; row < rows; row++) {
    if (last[row] !== 0) {
      goodRow = row;
      continue;
    }
    let first = groups - 1;
    while (first > 0 && cellVoltagesV[first - 1]?.[row] === 0) first--;
    const packV = packVoltageV[row] ?? Number.NaN;
    if (Number.isNaN(packV)) {
      if (first > 0) truncated[row] = 1;
      continue;
    }
    const packBeforeV = packVoltageV[goodRow] ?? Number.NaN;
    const offsetV = goodRow < 0 ? 0 : sumUpTo(goodRow, groups) - packBeforeV;
    // A row of nothing but zeros has no cell to judge by: the pack voltage has to stand as it was.
    const expectedV =
      first === 0 ? packBeforeV : (sumUpTo(row, first) * groups) / first - (Number.isFinite(offsetV) ? offsetV : 0);
    if (Math.abs(packV - expectedV) < (lostCellV * (groups - first)) / 2) truncated[row] = 1;
  }
  return truncated;
}

/** Rows from the one where cells are lost together with pack voltage, until as many cells read again as before. */
function packFellWithCells(log: ReadingLog, lost: Int32Array, truncatedRow: Uint8Array): Uint8Array {
  const flagged = new Uint8Array(log.rows);
  let lostBefore = lost[0] ?? 0;
  let packBeforeV = log.packVoltageV[0] ?? Number.NaN;
  let baseline: number | null = null;
  for (let row = 1; row < log.rows; row++) {
    if (truncatedRow[row] === 1) continue;
    const lostNow = lost[row] ?? 0;
    const packV = log.packVoltageV[row] ?? Number.NaN;
    const isUnloaded = Math.abs(log.currentA[row] ?? Number.NaN) < unloadedA;
    const newlyLost = lostNow - lostBefore;
    if (newlyLost > 0 && isUnloaded && packBeforeV - packV >= lostCellV * newlyLost) baseline ??= lostBefore;
    if (baseline !== null && lostNow <= baseline) baseline = null;
    if (baseline !== null) flagged[row] = 1;
    lostBefore = lostNow;
    packBeforeV = packV;
  }
  return flagged;
}
