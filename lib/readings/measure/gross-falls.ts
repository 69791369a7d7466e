import { median, scaledMad } from "@/lib/readings/measure/median";
import { restPeriods } from "@/lib/readings/measure/rest-periods";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** A group that falls so far against the others within hours of rest that no relaxation does it. */
export interface GrossFall {
  readonly group: number;
  readonly fellV: number;
  readonly overS: number;
  readonly endRow: number;
  readonly millivoltPerDay: number;
  /** Its pack voltage fell with it; null where none was logged that could tell. */
  readonly packFollows: boolean | null;
}

/** What a fall must reach, V and mV per day. */
export interface GrossFallLimits {
  readonly grossFallV: number;
  readonly grossFallMillivoltPerDay: number;
}

/** s of rest passed over, and s that must follow. Engineering defaults: within an hour what groups of unlike wear still give back is a few mV. */
const settlesS = 3600;
const leastWindowS = 3600;
/** Share of its pace in the first half that a fall keeps in the second: relaxation fades. Engineering default. */
const keptShare = 0.4;
/** Scatters of the falls of all groups by which one must stand out, and the smallest scatter taken, V. Engineering defaults. */
const scatters = 8;
const leastScatterV = 0.0005;
/** Share of the fall that a neighbour may gain, that the pack voltage must show, and that the group in the middle may fall itself. Engineering defaults. */
const neighbourShare = 0.5;
const packShare = 0.6;
const middleShare = 0.5;
/** Scatters of sum and pack voltage around a moment (two of them are four standard errors of the medians) that a fall must exceed before the pack voltage tells of it. Engineering default. */
const packNoise = 2;
/** Readings whose median stands for a moment. Engineering default. */
const readings = 11;

/**
 * Falls in rests too short for a drift of mV per day: what they lose is tens of mV. Not asked: rests through which a current flowed or a
 * balancer drew, and groups whose neighbour gains what they lose, or whose pack voltage stands (a wire). O(groups) for each rest.
 */
export function grossFalls(survey: RowSurvey, limits: GrossFallLimits): GrossFall[] {
  const { log } = survey;
  return restPeriods(survey, settlesS + leastWindowS).flatMap(({ startRow, endRow, restedS }) => {
    if (survey.standingDraws.some((draw) => draw.endRow === endRow)) return [];
    const endS = log.timeS[endRow] ?? 0;
    const fromRow = rowAt(log.timeS, startRow, endRow, endS - restedS + settlesS);
    const overS = endS - (log.timeS[fromRow] ?? 0);
    if (overS < leastWindowS || isBalanced(log.balancingMask, startRow, endRow)) return [];
    const halfRow = rowAt(log.timeS, fromRow, endRow, endS - overS / 2);
    const rows = [fromRow, halfRow, endRow].map((row) => around(row, startRow, endRow));
    const off = log.cellVoltagesV.map((column) =>
      rows.map((near) =>
        median(near.map((row) => (column[row] ?? Number.NaN) - (survey.referenceV[row] ?? Number.NaN))),
      ),
    );
    const falls = off.map(([before, , after]) => (before ?? Number.NaN) - (after ?? Number.NaN));
    const scatter = Math.max(leastScatterV, scaledMad(falls) ?? Number.POSITIVE_INFINITY);
    const moved = (column: Float64Array, [from, , to]: readonly (readonly number[])[]) =>
      (median((from ?? []).map((row) => column[row] ?? Number.NaN)) ?? Number.NaN) -
      (median((to ?? []).map((row) => column[row] ?? Number.NaN)) ?? Number.NaN);
    const middleFellV = moved(survey.referenceV, rows);
    const packFellV = moved(log.packVoltageV, rows) - middleFellV * survey.groups;
    const packScatterV = Math.max(
      ...rows.map(
        (near) =>
          scaledMad(near.map((row) => (survey.sumV[row] ?? Number.NaN) - (log.packVoltageV[row] ?? Number.NaN))) ?? 0,
      ),
    );
    const fellTogetherV = falls.reduce((sum, fall) => sum + (fall >= limits.grossFallV ? fall : 0), 0);
    return falls.flatMap((fellV, index): GrossFall[] => {
      const millivoltPerDay = (1000 * fellV * 86_400) / overS;
      const [before = null, half = null, after = null] = off[index] ?? [];
      if (before === null || half === null || after === null) return [];
      if (!(fellV >= limits.grossFallV && millivoltPerDay >= limits.grossFallMillivoltPerDay)) return [];
      if (fellV < scatters * scatter || half - after < keptShare * (before - half)) return [];
      if (Math.abs(middleFellV) > middleShare * fellV) return [];
      const gained = Math.max(...[index - 1, index + 1].map((at) => -(falls[at] ?? 0)));
      if (gained > neighbourShare * fellV) return [];
      const packTells = Number.isFinite(packFellV) && packNoise * packScatterV < fellV;
      const packFollows = packTells ? packFellV >= packShare * fellTogetherV : null;
      return [{ group: index + 1, fellV, overS, endRow, millivoltPerDay, packFollows }];
    });
  });
}

/** First row from `fromRow` on that lies at or after a time. */
function rowAt(timeS: Float64Array, fromRow: number, endRow: number, atS: number): number {
  let low = fromRow;
  let high = endRow;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((timeS[middle] ?? 0) < atS) low = middle + 1;
    else high = middle;
  }
  return low;
}

function around(row: number, startRow: number, endRow: number): number[] {
  const from = Math.max(startRow, Math.min(row - (readings >> 1), endRow - readings + 1));
  return Array.from({ length: Math.min(readings, endRow - from + 1) }, (_, place) => from + place);
}

function isBalanced(mask: Float64Array | null, startRow: number, endRow: number): boolean {
  if (mask === null) return false;
  for (let row = startRow; row <= endRow; row += 1) if ((mask[row] ?? 0) > 0) return true;
  return false;
}
