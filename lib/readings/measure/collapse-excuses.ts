import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Rows in a row, and share of the fall, by which a group must stand where it stood before. Engineering defaults. */
const rowsStanding = 3;
const backWithinShare = 0.2;
/** s of rest after it in which a group that lost its volts for good would have warmed a probe, and K by which. Engineering defaults. */
const calmS = 3600;
const warmedK = 5;

/**
 * Row up to which a fall of one group, in a log without a witness of the whole pack, is its reading and not its cells; null where it may be both.
 * A cell does not come back: what takes hundreds of mV from a resting cell has emptied it. And a cell that is short circuited inside
 * gives its charge off as heat within the hour: a reading of no volts at all through an hour of rest in which every probe stays calm is a lost wire or
 * a dead group, which the pack is set apart for as well.
 */
export function onlyReadUntil(
  survey: RowSurvey,
  index: number,
  row: number,
  beforeV: number,
  fallV: number,
): number | null {
  return standsAgain(survey, index, row, beforeV, fallV) ?? (isCalm(survey, index, row) ? survey.log.rows : null);
}

function standsAgain(
  { log, referenceV, restingS }: RowSurvey,
  index: number,
  row: number,
  beforeV: number,
  fallV: number,
): number | null {
  const column = log.cellVoltagesV[index];
  let standing = 0;
  for (let later = row + 1; later < log.rows; later += 1) {
    if (!((restingS[later] ?? -1) >= 0)) continue;
    const off = (column?.[later] ?? Number.NaN) - (referenceV[later] ?? Number.NaN);
    standing = beforeV - off <= backWithinShare * fallV ? standing + 1 : 0;
    if (standing >= rowsStanding) return later;
  }
  return null;
}

function isCalm({ log, gates, restingS }: RowSurvey, index: number, row: number): boolean {
  const [low, high] = gates.temperaturePlausibleC;
  if (!((log.cellVoltagesV[index]?.[row] ?? Number.NaN) < gates.cellPlausibleV[0])) return false;
  const [first] = log.temperatures;
  if (first === undefined) return false;
  const startS = log.timeS[row] ?? 0;
  let last = row;
  while (last + 1 < log.rows && (restingS[last + 1] ?? -1) >= 0 && log.segment[last + 1] === log.segment[row])
    last += 1;
  if ((log.timeS[last] ?? 0) - startS < calmS) return false;
  return log.temperatures.every(({ valuesC }) => {
    const before = valuesC[row] ?? Number.NaN;
    if (!(before >= low && before <= high)) return false;
    for (let later = row + 1; later <= last; later += 1)
      if ((valuesC[later] ?? before) >= before + warmedK) return false;
    return Number.isFinite(valuesC[last]);
  });
}
