import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/**
 * A group that reads near zero volts, or negative. What the pack voltage says of it: "agrees" the volts are gone (a dead or
 * shorted group), "denies" they are still there (a lost wire or channel; a neighbour that holds them says so too), "silent"
 * nothing can tell.
 */
export interface NearZeroGroup {
  readonly group: number;
  readonly packVoltage: "agrees" | "denies" | "silent";
  readonly rows: number;
  readonly firstRow: number;
  readonly lastRow: number;
  readonly lowestV: number;
}

/** Rows in a row that make a state; one or two are a bad frame. Engineering default. */
const rowsInARow = 3;
/** V the sum may miss the pack voltage by where the pack's own baseline was never seen. Engineering default. */
const sumWithinV = 1;
/** Share of what the groups would lack: nearer to one explanation than this, and farther from the other than the rest, decides. */
const decidedShare = 0.35;
/** Rows in which a frame ends at the same group, all zeros behind it, before it is no cut frame. Engineering default. */
const cutFramesAlike = 20;

/**
 * Groups below the plausible voltage for three rows together and more, anywhere in the log. A group at zero is dead,
 * shorted or not connected; none of these may be dropped as bad data. Frames cut off (exact zeros from some group to the
 * last, now here, now there) are no voltages and are left out. O(rows), more only in rows with an implausible group.
 */
export function nearZeroGroups(survey: RowSurvey): NearZeroGroup[] {
  const { log, groups } = survey;
  const found = log.cellVoltagesV.map(() => ({
    run: 0,
    rows: 0,
    firstRow: -1,
    lastRow: -1,
    lowestV: Number.POSITIVE_INFINITY,
    says: [0, 0],
  }));
  const baselineV = usualMissV(survey);
  let cutAt = -1;
  let cutRun = 0;
  for (let row = 0; row < log.rows; row += 1) {
    const plausible = survey.plausibleGroups[row] ?? 0;
    // A frame of nothing but zeros is a board asleep: no group of it says anything.
    if (plausible === groups || plausible === 0) {
      for (const one of found) one.run = 0;
      cutRun = 0;
      continue;
    }
    const cut = cutFrom(survey, row);
    cutRun = cut < groups && cut === cutAt ? cutRun + 1 : 0;
    cutAt = cut;
    const end = cutRun >= cutFramesAlike ? groups : cut;
    const near: number[] = [];
    for (let index = 0; index < groups; index += 1) {
      const one = found[index];
      if (one === undefined) continue;
      const volt = log.cellVoltagesV[index]?.[row] ?? Number.NaN;
      if (index >= end || !(volt < survey.gates.cellPlausibleV[0])) {
        one.run = 0;
        continue;
      }
      near.push(index);
      one.run += 1;
      if (one.run < rowsInARow) continue;
      one.rows += one.run === rowsInARow ? rowsInARow : 1;
      if (one.firstRow < 0) one.firstRow = row - rowsInARow + 1;
      one.lastRow = row;
      one.lowestV = Math.min(one.lowestV, volt);
    }
    const says = near.length === 0 ? 0 : packSays(survey, row, near, baselineV);
    for (const index of near) {
      const counts = found[index]?.says;
      const told = says === 0 && givenToNeighbour(survey, row, index) ? -1 : says;
      if (counts === undefined || told === 0) continue;
      if (told > 0) counts[0] = (counts[0] ?? 0) + 1;
      else counts[1] = (counts[1] ?? 0) + 1;
    }
  }
  return found.flatMap(({ rows, firstRow, lastRow, lowestV, says }, index): NearZeroGroup[] => {
    if (rows === 0) return [];
    const [agrees = 0, denies = 0] = says;
    const told = agrees + denies >= rowsInARow;
    // To be on the safe side it takes a clear majority to say that the volts are still there.
    const packVoltage =
      told && denies >= 0.9 * (agrees + denies) ? "denies" : told && agrees > denies ? "agrees" : "silent";
    return [{ group: index + 1, packVoltage, rows, firstRow, lastRow, lowestV }];
  });
}

/** First group of the zeros a frame ends with; the number of groups where it ends with a value. */
function cutFrom({ log, groups }: RowSurvey, row: number): number {
  let cut = groups;
  while (cut > 0 && log.cellVoltagesV[cut - 1]?.[row] === 0) cut -= 1;
  return cut;
}

/** Sum of the groups less pack voltage where all groups have a value, V; null where no such row tells. */
function usualMissV({ log, sumV }: RowSurvey): number | null {
  const stride = Math.max(1, Math.floor(log.rows / 2000));
  const misses: number[] = [];
  for (let row = 0; row < log.rows; row += stride) {
    const miss = (sumV[row] ?? Number.NaN) - (log.packVoltageV[row] ?? Number.NaN);
    // An output that is switched off reads no pack voltage.
    if (Number.isFinite(miss) && miss < 0.5 * (sumV[row] ?? 0)) misses.push(miss);
  }
  if (misses.length < 20) return null;
  return misses.sort((a, b) => a - b)[misses.length >> 1] ?? null;
}

/** 1: the pack voltage lacks these groups as well; -1: it does not; 0: it cannot tell. */
function packSays(survey: RowSurvey, row: number, near: readonly number[], baselineV: number | null): -1 | 0 | 1 {
  const pack = survey.log.packVoltageV[row] ?? Number.NaN;
  const usual = survey.referenceV[row] ?? Number.NaN;
  let asReadV = 0;
  for (let index = 0; index < survey.groups; index += 1)
    asReadV += survey.log.cellVoltagesV[index]?.[row] ?? Number.NaN;
  if (!Number.isFinite(pack + usual + asReadV) || pack < 0.5 * asReadV) return 0;
  const lackV = near.reduce((sum, index) => sum + usual - (survey.log.cellVoltagesV[index]?.[row] ?? 0), 0);
  const missV = asReadV - pack - (baselineV ?? 0);
  const within = baselineV === null ? Math.min(sumWithinV, decidedShare * lackV) : decidedShare * lackV;
  if (Math.abs(missV) <= within) return 1;
  return Math.abs(missV + lackV) <= within ? -1 : 0;
}

/** Share of the missing volts a neighbour must show besides its own: an open tap gives to one what it takes from the other. */
const givenShare = 0.7;

function givenToNeighbour({ log, referenceV }: RowSurvey, row: number, index: number): boolean {
  const usual = referenceV[row] ?? Number.NaN;
  const lackV = usual - (log.cellVoltagesV[index]?.[row] ?? 0);
  return [index - 1, index + 1].some((at) => (log.cellVoltagesV[at]?.[row] ?? 0) - usual >= givenShare * lackV);
}
