import type { AcuteGates } from "@/lib/readings/measure/acute-gates";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import { fallenSilent } from "@/lib/readings/measure/fallen-silent";
import { deviation } from "@/lib/readings/measure/group-collapse";
import { median } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";

/** Falls, in `groupFallV`, by which a group stands below the others at the heat. Engineering default. */
const falls = 2;
/** s before the heat shows from which a silence belongs to it: a probe beside a cell follows within minutes. Engineering default. */
const lostWithinS = 900;

/**
 * Groups that stand far below the others where heat begins, and stood with them when the log last told: a board that slept while
 * a group failed shows no fall within minutes, only the level afterwards; and one that woke as it failed shows the fall before
 * the pack has been seen to rest. Heat alone names no group; these it names.
 * Unconfirmed: an open tap may read so too, but the heat beside it may not be waited out.
 */
export function fallenBesideHeat(survey: RowSurvey, heat: AcuteSign, gates: AcuteGates): AcuteSign[] {
  const { log } = survey;
  // The last row before the sleep: had it not slept, the fall would have been seen as one.
  let before = heat.row - 1;
  while (before >= 0 && (log.timeS[before + 1] ?? 0) - (log.timeS[before] ?? 0) <= gates.groupFallS) before -= 1;
  const rows =
    before < 0
      ? [firstWithin(log.timeS, heat.row, gates.groupFallS)]
      : [0, 1, 2].map((back) => before - back).filter((row) => row >= 0);
  const from = rows[0] ?? 0;
  const found: AcuteSign[] = [];
  for (let index = 0; index < survey.groups; index += 1) {
    const stoodV = median(rows.map((row) => deviation(survey, index, row))) ?? Number.NaN;
    const standsV = deviation(survey, index, heat.row);
    if (!(Math.abs(stoodV) <= gates.groupFallV && standsV <= -falls * gates.groupFallV)) continue;
    found.push({
      kind: "fallen-beside-heat",
      row: heat.row,
      groups: [index + 1],
      before: stoodV,
      after: standsV,
      overS: (log.timeS[heat.row] ?? 0) - (log.timeS[from] ?? 0),
      where: "",
      confirmed: false,
    });
  }
  return found;
}

/** First row that lies no more than so many seconds before another. */
function firstWithin(timeS: Float64Array, row: number, withinS: number): number {
  let first = row;
  while (first > 0 && (timeS[row] ?? 0) - (timeS[first - 1] ?? 0) <= withinS) first -= 1;
  return first;
}

/**
 * Groups that give no sensible value any more from the heat on, or from minutes before it: what a lost cell reads like, and heat alone names no
 * group. Where all fall silent it is the board, and none is named.
 */
export function silentBesideHeat(survey: RowSurvey, heat: AcuteSign): AcuteSign[] {
  const { log } = survey;
  const heatS = log.timeS[heat.row] ?? 0;
  const silences = fallenSilent(survey).filter(({ fromRow }) => (log.timeS[fromRow] ?? 0) >= heatS - lostWithinS);
  if (silences.flatMap(({ groups }) => groups).length === survey.groups) return [];
  return silences.map(({ groups, fromRow, overS }) => ({
    kind: "silent-beside-heat",
    row: fromRow,
    groups,
    before: deviation(survey, (groups[0] ?? 1) - 1, fromRow - 1),
    after: Number.NaN,
    overS,
    where: "",
    confirmed: false,
  }));
}
