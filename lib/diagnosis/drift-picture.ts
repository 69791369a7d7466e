import type { Evidence } from "@/lib/diagnosis/evidence";
import { inTime } from "@/lib/diagnosis/wording";
import { restPeriods } from "@/lib/readings/measure/rest-periods";

/** Points of one rest with the robust slope of every group, or why there is none. */
export type DriftPicture =
  | {
      readonly outcome: "drawn";
      /** Days since the first point of the longest rest. */
      readonly days: readonly number[];
      readonly groups: readonly DriftOfGroup[];
      /** From the diagnosis, over all rests long enough. */
      readonly restDays: number;
      readonly rests: number;
      /** mV per day below which a fall is called self-discharge: the limit that was used for a rest of this length. */
      readonly limitMillivoltPerDay: number;
      /** mV per day up to which a fall is usual; missing in drawings of earlier rules. */
      readonly usualMillivoltPerDay?: number | undefined;
      readonly isShort: boolean;
    }
  | { readonly outcome: "cannot"; readonly because: string };

export interface DriftOfGroup {
  /** Deviation from the median group at each point, mV; null where not logged. */
  readonly millivolt: readonly (number | null)[];
  readonly millivoltPerDay: number | null;
  /** One standard error. */
  readonly errorMillivoltPerDay: number | null;
}

const POINTS = 40;

/** What the slope of each group was drawn through: the longest rest, thinned, from where relaxation is over. */
export function driftPicture(evidence: Evidence): DriftPicture {
  const { drift, shortDrift, survey, settings } = evidence;
  const used = drift ?? shortDrift;
  // Under a common draw a smaller group falls as a leaking one does: such a rest is not drawn, as it is not judged.
  const rests = restPeriods(survey, 600).filter(
    ({ endRow }) => !survey.standingDraws.some((draw) => draw.endRow === endRow),
  );
  const longest = rests.toSorted((a, b) => b.restedS - a.restedS)[0];
  if (used === null || longest === undefined) {
    const needed = settings.measure.restForDriftS + settings.measure.driftWindowS;
    const had = longest === undefined ? "no rest of ten minutes" : `the longest rest lasted ${inTime(longest.restedS)}`;
    const drawn = survey.standingDraws.length > 0 ? "a current flowed while the pack stood; without that, " : "";
    return {
      outcome: "cannot",
      because: `${drawn}${had}. A slow leak shows after ${inTime(needed)} of rest, a strong one after ${inTime(10 * 3600)}.`,
    };
  }
  const rows = pointRows(
    evidence,
    longest.startRow,
    longest.endRow,
    drift === null ? 2 * 3600 : settings.measure.restForDriftS,
  );
  const firstS = survey.log.timeS[rows[0] ?? 0] ?? 0;
  return {
    outcome: "drawn",
    days: rows.map((row) => rounded(((survey.log.timeS[row] ?? 0) - firstS) / 86_400, 4) ?? 0),
    groups: survey.log.cellVoltagesV.map((column, index) => ({
      millivolt: rows.map((row) =>
        rounded(1000 * ((column[row] ?? Number.NaN) - (survey.referenceV[row] ?? Number.NaN)), 2),
      ),
      millivoltPerDay: rounded(used.millivoltPerDay[index] ?? Number.NaN, 3),
      errorMillivoltPerDay: rounded(used.errorMillivoltPerDay[index] ?? Number.NaN, 3),
    })),
    restDays: rounded(used.days, 3) ?? 0,
    rests: used.rests,
    usualMillivoltPerDay: evidence.settings.verdict.driftWatchMillivoltPerDay,
    limitMillivoltPerDay:
      drift === null ? settings.verdict.shortDriftMillivoltPerDay : settings.verdict.driftMillivoltPerDay,
    isShort: drift === null,
  };
}

function pointRows({ survey }: Evidence, startRow: number, endRow: number, waitS: number): number[] {
  const { timeS } = survey.log;
  const fromS = (timeS[endRow] ?? 0) - (survey.restingS[endRow] ?? 0) + waitS;
  const toS = timeS[endRow] ?? 0;
  const rows: number[] = [];
  let nextS = fromS;
  for (let row = startRow; row <= endRow; row += 1) {
    if ((timeS[row] ?? 0) < nextS || !Number.isFinite(survey.referenceV[row])) continue;
    rows.push(row);
    nextS = (timeS[row] ?? 0) + (toS - fromS) / POINTS;
  }
  return rows;
}

function rounded(value: number, decimals: number): number | null {
  return Number.isFinite(value) ? Number(value.toFixed(decimals)) + 0 : null;
}
