import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { synchronousAtAll } from "@/lib/diagnosis/not-seen";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { confidence, inDigits } from "@/lib/diagnosis/wording";
import { median, quantile } from "@/lib/readings/measure/median";
import type { PackSumPiece } from "@/lib/readings/measure/pack-sum";
import { pathLevels } from "@/lib/readings/measure/path-levels";
import { pathOpenings } from "@/lib/readings/measure/path-openings";
import { pathScatter } from "@/lib/readings/measure/path-scatter";

/** Correlation from which the absolute resistance outside the groups is trusted: skewed sampling inflates it. Engineering default. */
const synchronousEnough = 0.93;
/** Multiple of its error a change must reach. Engineering default. */
const sigmas = 7;
/** Rows in which a path must open, share of the rows under load, and how many for each that takes less. Engineering defaults. */
const openingsNeeded = 8;
const openingsOfRows = 0.03;
const oneSided = 8;

/** F12: resistance between the groups and the terminals, in leads, fuse, connector, shunt or switches. */
export const mainLead = oncePerEvidence((evidence): readonly Finding[] => {
  const { sum, resistance, settings } = evidence;
  if (sum.outcome !== "measured" || resistance.outcome === "refused") return [];
  if (sumIsDoubtful(evidence)) return [];
  const limits = settings.verdict;
  const levels = pathLevels(evidence.survey, sum.roundingV);
  // Over a minute between rows charge and warmth move the groups besides; the drop itself tells whether it was read with the current.
  const told = levels !== null && levels.explained >= limits.leadExplained;
  if ((evidence.sumCorrelation ?? 0) < synchronousAtAll && !told) return [];
  const change = contactChange(sum.pieces, limits.leadDoubtfulMilliohm / 1000);
  const changed =
    change !== null &&
    change.high - change.low >= Math.max(limits.leadChangeMilliohm, sigmas * change.error) &&
    change.high >= limits.leadChangeRatio * Math.max(change.low, 0.5);
  const unrest = contactUnrest(sum.pieces, limits.leadDoubtfulMilliohm / 1000);
  const unsteady =
    unrest !== null &&
    unrest.high - unrest.low >= Math.max(limits.leadChangeMilliohm, sigmas * unrest.error) &&
    unrest.high >= limits.leadChangeRatio * Math.max(unrest.low, 0.5);
  const scatter = pathScatter(evidence.survey, resistance.resistance.rows, sum.roundingV);
  const flickers =
    scatter !== null &&
    scatter.overNoise >= limits.leadScatterOverNoise &&
    scatter.scatterOhm * 1000 >=
      Math.max(limits.leadChangeMilliohm, limits.leadScatterShare * resistance.resistance.sumMilliohm);
  const restless = contactRestlessness(sum.pieces, limits.leadDoubtfulMilliohm / 1000);
  const wanders =
    restless !== null &&
    restless.chiSquare >= limits.leadUnrestChiSquare &&
    restless.spreadMilliohm >= Math.max(limits.leadUnrestMilliohm, limits.leadUnrestShare * restless.meanMilliohm);
  const moved = changed ? change : unsteady ? unrest : null;
  const outside = sum.outsideOhm * 1000;
  const inside = resistance.resistance.sumMilliohm;
  const makesAndBreaks =
    levels !== null &&
    levels.sureness >= limits.leadFlickerSureness &&
    levels.flickerOhm * 1000 >=
      Math.max(limits.leadFlickerMilliohm, limits.leadFlickerShare * outside, limits.leadFlickerOfGroups * inside);
  const standing =
    ((evidence.sumCorrelation ?? 0) >= synchronousEnough || told) &&
    outside >= Math.max(limits.leadHighMilliohm, limits.leadHighShare * inside);
  const opening = pathOpenings(evidence.survey, sum.roundingV);
  const opens =
    opening !== null &&
    opening.more >= Math.max(openingsNeeded, openingsOfRows * opening.looked) &&
    opening.less <= opening.more / oneSided &&
    opening.moreOhm * 1000 >= Math.max(limits.leadChangeMilliohm, limits.leadFlickerOfGroups * inside);
  const unsettled = flickers || wanders || makesAndBreaks || opens;
  if (moved === null && !standing && !unsettled) return [];
  return [
    {
      fault: "main-lead",
      groups: [],
      confidence: confidence(moved !== null ? 0.78 : unsettled ? 0.72 : 0.58),
      safetyClass: "B",
      evidenceFor: [
        `Leads, fuse and switches between the groups and the terminals have ${inDigits(outside, 1)} mOhm of resistance, all groups together ${inDigits(inside, 1)} mOhm.`,
        ...(moved !== null
          ? [
              `Within the log it moves between ${inDigits(moved.low, 1)} and ${inDigits(moved.high, 1)} mOhm: a contact, not a cell.`,
            ]
          : []),
        ...(moved === null && flickers
          ? [
              `From one change of load to the next it differs by ${inDigits(scatter.scatterOhm * 1000, 1)} mOhm, ${inDigits(scatter.overNoise, 0)} times what the readings scatter by: a contact makes and breaks.`,
            ]
          : []),
        ...(moved === null && !flickers && wanders
          ? [
              `From one part of the log to the next it differs by ${inDigits(restless.spreadMilliohm, 1)} mOhm, ${inDigits(Math.sqrt(restless.chiSquare), 1)} times what it can be measured to.`,
            ]
          : []),
        ...(moved === null && !flickers && !wanders && !makesAndBreaks && opens
          ? [
              `In ${opening.more} of ${opening.looked} rows under load it takes ${inDigits(opening.moreOhm * 1000, 1)} mOhm more than in the others, and in ${opening.less} as much less: a contact opens now and then.`,
            ]
          : []),
        ...(moved === null && !flickers && !wanders && makesAndBreaks
          ? [
              `From row to row under load it differs by ${inDigits(levels.flickerOhm * 1000, 1)} mOhm beyond what the readings scatter by: a contact makes and breaks.`,
            ]
          : []),
      ],
      evidenceAgainst:
        moved !== null || unsettled
          ? []
          : ["It is steady, and what is normal for the leads, fuse and switches of this model is not known."],
      nextTest: "Move connector and leads under load while logging; infrared picture of connector and fuse; pull test.",
    },
  ];
});

/** Where a reading of the sum itself is at fault, its difference to the pack voltage says nothing about the leads. */
function sumIsDoubtful({ shifts, taps, frozen, nearZero }: Evidence): boolean {
  return (
    shifts.some((shift) => shift.kind === "step") ||
    taps.some((tap) => tap.kind === "end tap") ||
    frozen.length > 0 ||
    nearZero.length > 0
  );
}

/** Parts of the log below which their spread says nothing. Engineering default. */
const partsNeeded = 6;

/**
 * Spread of the parts beyond their errors: Cochran's Q over its degrees of freedom, and the standard deviation between
 * parts by the method of moments (DerSimonian and Laird 1986, doi:10.1016/0197-2456(86)90046-2). milliohm.
 */
function contactRestlessness(
  pieces: readonly PackSumPiece[],
  doubtfulOhm: number,
): { chiSquare: number; spreadMilliohm: number; meanMilliohm: number } | null {
  const told = pieces.filter((piece) => piece.outsideErrorOhm < doubtfulOhm && piece.outsideErrorOhm > 0);
  if (told.length < partsNeeded) return null;
  const { mean } = weighted(told);
  let weights = 0;
  let squares = 0;
  let q = 0;
  for (const piece of told) {
    const weight = 1 / (1000 * piece.outsideErrorOhm) ** 2;
    weights += weight;
    squares += weight ** 2;
    q += weight * (1000 * piece.outsideOhm - mean) ** 2;
  }
  const degrees = told.length - 1;
  const between = Math.max(0, (q - degrees) / (weights - squares / weights));
  return { chiSquare: q / degrees, spreadMilliohm: Math.sqrt(between), meanMilliohm: mean };
}

/** Lower and higher level of the best split of the log in two, milliohm, and the error of their difference. */
function contactChange(
  pieces: readonly PackSumPiece[],
  doubtfulOhm: number,
): { low: number; high: number; error: number } | null {
  const told = pieces.filter((piece) => piece.outsideErrorOhm < doubtfulOhm && piece.outsideErrorOhm > 0);
  let best: { low: number; high: number; error: number } | null = null;
  for (let cut = 1; cut < told.length; cut += 1) {
    const before = weighted(told.slice(0, cut));
    const after = weighted(told.slice(cut));
    const error = Math.hypot(before.error, after.error);
    const low = Math.min(before.mean, after.mean);
    const high = Math.max(before.mean, after.mean);
    if (best === null || (high - low) / error > (best.high - best.low) / best.error) best = { low, high, error };
  }
  return best;
}

function weighted(pieces: readonly PackSumPiece[]): { mean: number; error: number } {
  let total = 0;
  let sum = 0;
  for (const piece of pieces) {
    const weight = 1 / piece.outsideErrorOhm ** 2;
    total += weight;
    sum += weight * piece.outsideOhm * 1000;
  }
  return { mean: sum / total, error: 1000 / Math.sqrt(total) };
}

/** Spread of the pieces where the contact comes and goes all the time: 10 and 90 % quantile, milliohm. */
function contactUnrest(
  pieces: readonly PackSumPiece[],
  doubtfulOhm: number,
): { low: number; high: number; error: number } | null {
  const told = pieces.filter((piece) => piece.outsideErrorOhm < doubtfulOhm / 4 && piece.outsideErrorOhm > 0);
  if (told.length < 8) return null;
  const values = Float64Array.from(told, (piece) => piece.outsideOhm * 1000);
  const error = 1000 * (median(told.map((piece) => piece.outsideErrorOhm)) ?? 0);
  return { low: quantile(values, 0.1) ?? 0, high: quantile(values, 0.9) ?? 0, error };
}
