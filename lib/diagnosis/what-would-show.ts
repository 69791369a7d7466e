import { shortfallError, weakRatio } from "@/lib/diagnosis/capacity-shares";
import type { Evidence } from "@/lib/diagnosis/evidence";
import { scaledMad } from "@/lib/readings/measure/median";

/** How many groups were judged, which were not, and what a fault had to reach to show for certain in any one judged. */
export interface WouldShow {
  readonly judged: number;
  /** Group numbers whose value is missing although their readings are no void. */
  readonly notJudged: readonly number[];
  /** Share by which a group must differ from the median group; null where nothing was judged. */
  readonly leastShare: number | null;
}

/** 0.95 quantile of the normal distribution (NIST/SEMATECH e-Handbook 1.3.6.7.1): what shows in 95 of 100 logs. */
const normal95 = 1.644853626951473;

/** What a difference must reach under a rule: a share, so many times the scatter of the groups, and so many standard errors. */
interface Rule {
  readonly share: number;
  readonly z: number;
  readonly sigmas: number;
  readonly leastScatter: number;
}

/** Values and errors as shares of the median group's; the error is what a rule takes it for. */
function wouldShow(
  { survey, doubtfulGroups }: Evidence,
  values: ArrayLike<number>,
  errors: ArrayLike<number>,
  rules: readonly Rule[],
): WouldShow {
  const groups = Array.from({ length: survey.groups }, (_, index) => index + 1).filter(
    (one) => !doubtfulGroups.has(one),
  );
  const isKnown = (group: number) =>
    Number.isFinite((values[group - 1] ?? Number.NaN) + (errors[group - 1] ?? Number.NaN));
  const known = groups.filter(isKnown);
  const spread = scaledMad(known.map((group) => values[group - 1] ?? Number.NaN)) ?? 0;
  const shares = known.map((group) => {
    const error = errors[group - 1] ?? Number.NaN;
    const demanded = rules.map(({ share, z, sigmas, leastScatter }) =>
      Math.max(share, z * Math.max(leastScatter, spread), sigmas * error),
    );
    return Math.min(...demanded) + normal95 * error;
  });
  return {
    judged: known.length,
    notJudged: groups.filter((group) => !isKnown(group)),
    leastShare: shares.length === 0 ? null : Math.max(...shares),
  };
}

/** Of resistance, by the rule for a group that stands out steadily. */
export function riseThatShows(evidence: Evidence): WouldShow {
  const limits = evidence.settings.verdict;
  if (evidence.resistance.outcome === "refused") return { judged: 0, notJudged: [], leastShare: null };
  const { excessMilliohm, excessErrorMilliohm, medianMilliohm } = evidence.resistance.resistance;
  const shared = { sigmas: limits.resistanceSigmas, leastScatter: limits.resistanceLeastScatter };
  return wouldShow(
    evidence,
    excessMilliohm.map((one) => one / medianMilliohm),
    excessErrorMilliohm.map((one) => one / medianMilliohm),
    [
      { ...shared, share: limits.resistanceRatio - 1, z: limits.resistanceZ },
      { ...shared, share: limits.resistanceClearRatio - 1, z: limits.resistanceClearZ },
    ],
  );
}

/** Of capacity, by the rule for a group that falls behind over a sweep of charge. */
export function shortfallThatShows(evidence: Evidence): WouldShow {
  const { states, charge, curve, settings } = evidence;
  if (states === null || charge === null || curve === null) return { judged: 0, notJudged: [], leastShare: null };
  const limits = settings.verdict;
  const swept = charge.window[1] - charge.window[0];
  const ratio = weakRatio(evidence);
  const found = wouldShow(
    evidence,
    states.groups.map((state) => state?.shortfall.estimate ?? Number.NaN),
    states.groups.map((state) => shortfallError(state?.shortfall.sd ?? Number.NaN, swept)),
    [{ share: 1 / ratio - 1, z: limits.weakZ, sigmas: limits.weakSigmas, leastScatter: limits.weakLeastScatter }],
  );
  // A shortfall is over the group's own capacity; said is what the group would lack of the median group's.
  return { ...found, leastShare: found.leastShare === null ? null : 1 - 1 / (1 + found.leastShare) };
}
