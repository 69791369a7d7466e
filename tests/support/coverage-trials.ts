import { compareStrata, withRatios } from "@/lib/reliability/compare-strata";
import { earlySignals } from "@/lib/reliability/early-signals";
import { settledLaw } from "@/lib/reliability/group-life";
import { groupReport } from "@/lib/reliability/group-report";
import { correctedPoints, lagCorrectedCurve } from "@/lib/reliability/lag-corrected-curve";
import { type LifeCell, MOST_SLACK_DAYS } from "@/lib/reliability/life-cell";
import { monthTriangle, type SaleMonthLife } from "@/lib/reliability/month-triangle";
import type { Reporting } from "@/lib/reliability/reporting";
import { reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import { timesOfLikes } from "@/lib/reliability/signal-sentences";
import { correctedShares } from "@/lib/reliability/visible-estimate";
import { CauseTally } from "@/lib/stats/cause-tally";
import { cumulativeIncidence } from "@/lib/stats/cumulative-incidence";
import { empiricalBayesRates } from "@/lib/stats/empirical-bayes-rates";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import { LifeTally } from "@/lib/stats/life-tally";
import { meanCumulativeFunction } from "@/lib/stats/mean-cumulative-function";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { survivalAtAge } from "@/lib/stats/survival-at-age";
import { weibayes } from "@/lib/stats/weibayes";
import { calendarDate } from "@/lib/warranty/calendar";

/** In one made-up fleet: do the limits hold the truth? Null where they were not given. A number is a share of several. */
export type CoverageTrial = (random: () => number) => boolean | number | null;

const exponential = (random: () => number, mean: number) => -mean * Math.log(1 - random());
/** Mean reporting lag of the fleets, in days. */
const LAG_DAYS = 12;
const YEAR = 365;

interface Made {
  readonly group: string;
  readonly meanLife: number;
  readonly packs: number;
}

/** Packs are sold every tenth day, so that many have one life and a fleet is few cells. */
const DAYS_BETWEEN_SALES = 10;

/** Packs sold evenly over two years up to today, exponential lives, each failure known after a lag. */
function fleetOf(random: () => number, groups: readonly Made[]): { cells: LifeCell[]; lags: TruncatedLag[] } {
  const lags: TruncatedLag[] = [];
  const kept = { line: "confirmed", stratum: "M", dispatched: true, entryDays: 0, detail: null } as const;
  const cells = groups.flatMap(({ group, meanLife, packs }) => {
    const running = new Map<number, number>();
    const failed: LifeCell[] = [];
    for (let pack = 0; pack < packs; pack++) {
      const inUse = DAYS_BETWEEN_SALES * Math.ceil(((2 * YEAR) / DAYS_BETWEEN_SALES) * (1 - random()));
      const fails = Math.max(1, Math.ceil(exponential(random, meanLife)));
      const lag = Math.floor(exponential(random, LAG_DAYS / 2) + exponential(random, LAG_DAYS / 2));
      if (fails + lag > inUse) {
        running.set(inUse, (running.get(inUse) ?? 0) + 1);
        continue;
      }
      lags.push({ lag, longest: inUse - fails });
      const slackDays = Math.min(MOST_SLACK_DAYS, inUse - fails);
      failed.push({ ...kept, group, exitDays: fails, slackDays, status: "failed", packs: 1 });
    }
    const others = [...running].map(
      ([exitDays, count]): LifeCell => ({ ...kept, group, exitDays, slackDays: 0, status: "running", packs: count }),
    );
    return [...failed, ...others];
  });
  return { cells, lags };
}

const holds = ({ lower, upper }: { readonly lower: number; readonly upper: number | null }, truth: number) =>
  lower <= truth && truth <= (upper ?? Number.POSITIVE_INFINITY);

/** Share failed by a year of 400 packs of which 10 in 100 fail by then, sold over two years, all reports in. */
export const shareFailed: CoverageTrial = (random) => {
  const tally = new LifeTally();
  for (let pack = 0; pack < 400; pack++) {
    const inUse = 1 + Math.floor(2 * YEAR * random());
    const fails = Math.max(1, Math.ceil(exponential(random, -YEAR / Math.log(0.9))));
    tally.add(0, Math.min(inUse, fails), fails <= inUse);
  }
  const at = survivalAtAge(kaplanMeier(tally.counts()), YEAR);
  return at.kind === "estimate" ? holds(at, 0.9) : null;
};

/** Share failed by one age of 100 packs of which 2 in 100 fail by then: one or two failures, all reports in. */
export const shareOfFewFailures: CoverageTrial = (random) => {
  const tally = new LifeTally();
  for (let pack = 0; pack < 100; pack++) {
    const life = Math.log(1 - random()) / Math.log(0.98);
    const lastSeen = 0.3 + 1.7 * random();
    tally.add(0, Math.min(life, lastSeen), life <= lastSeen);
  }
  const at = survivalAtAge(kaplanMeier(tally.counts()), 1);
  return at.kind === "estimate" ? holds(at, 0.98) : null;
};

/** The same as the share failed with 600 packs whose latest reports are still on their way, corrected by the lag estimated from the fleet. */
export const correctedShare: CoverageTrial = (random) => {
  const { cells, lags } = fleetOf(random, [{ group: "A", meanLife: -YEAR / Math.log(0.9), packs: 600 }]);
  const { steps } = lagCorrectedCurve(cells, reportingOf(reportingLag(lags)));
  const share = correctedPoints({ steps, endsBeforeAge: null }).findLast(({ ageDays }) => ageDays <= YEAR);
  return share === undefined || share.probability === 0 ? null : holds(share, 0.1);
};

/** The band of the picture at nine months, of the same fleet and through the same report as on the page. */
export const drawnBand: CoverageTrial = (random) => {
  const meanLife = -YEAR / Math.log(0.9);
  const { cells, lags } = fleetOf(random, [{ group: "A", meanLife, packs: 600 }]);
  return bandHolds(cells, reportingOf(reportingLag(lags)), 270, 1 - Math.exp(-270 / meanLife));
};

/** Whether the band drawn at an age holds the share; null where it is grey there, or has ended. */
function bandHolds(cells: readonly LifeCell[], reporting: Reporting, ageDays: number, share: number): boolean | null {
  const { points } = groupReport("revision", "A", { cells, excluded: [] }, reporting);
  const at = points.findLast((point) => point.ageDays <= ageDays);
  return at === undefined || at.grey || at === points.at(-1) ? null : holds(at, share);
}

/**
 * Share failed by three months of 900 packs sold over the last 150 days, failures confirmed after 35 days on average and within 92: of a
 * young fleet with some 60 delays, the delay estimated from just those.
 */
export const youngCorrectedShare: CoverageTrial = (random) => youngShare(random, false);

/** The same with the delay known. */
export const youngShareAtKnownDelay: CoverageTrial = (random) => youngShare(random, true);

const YOUNG = { packs: 900, oldestDays: 150, meanLagDays: 35, meanLifeDays: 700, months: 3 };

/** The band of the picture at 75 days, of the same fleet, the delay estimated from it. */
export const youngDrawnBand: CoverageTrial = (random) => {
  const { cells, lags } = youngFleet(random);
  const estimated = reportingLag(lags);
  const share = 1 - Math.exp(-75 / YOUNG.meanLifeDays);
  return estimated.kind === "no-lag" ? null : bandHolds(cells, reportingOf(estimated), 75, share);
};

function youngShare(random: () => number, isDelayKnown: boolean): boolean | null {
  const { cells, lags } = youngFleet(random);
  const { meanLagDays, meanLifeDays, months } = YOUNG;
  const estimated = reportingLag(lags);
  if (estimated.kind === "no-lag") return null;
  const shareKnown = (days: number) => (days >= MOST_SLACK_DAYS ? 1 : 1 - Math.exp(-(days + 1) / meanLagDays));
  const reporting = isDelayKnown ? { shareKnown, longestLagDays: MOST_SLACK_DAYS } : reportingOf(estimated);
  const share = correctedShares(cells, reporting).headline.find((one) => one.months === months);
  return share?.kind === "estimate" ? holds(share, 1 - Math.exp(-Math.floor(share.ageDays) / meanLifeDays)) : null;
}

function youngFleet(random: () => number): { cells: LifeCell[]; lags: TruncatedLag[] } {
  const { packs, oldestDays, meanLagDays, meanLifeDays } = YOUNG;
  const lags: TruncatedLag[] = [];
  const cells = Array.from({ length: packs }, (): LifeCell => {
    const inUse = 1 + Math.floor(oldestDays * random());
    const fails = Math.max(1, Math.ceil(exponential(random, meanLifeDays)));
    const lag = Math.min(MOST_SLACK_DAYS, Math.floor(exponential(random, meanLagDays)));
    const isKnown = fails + lag <= inUse;
    if (isKnown) lags.push({ lag, longest: inUse - fails });
    const status = isKnown ? "failed" : fails <= inUse ? "undecided" : "running";
    const kept = { line: "confirmed", stratum: "M", dispatched: true, entryDays: 0, detail: null, packs: 1 } as const;
    const exitDays = Math.min(inUse, fails);
    return { ...kept, group: "A", exitDays, slackDays: Math.min(MOST_SLACK_DAYS, inUse - exitDays), status };
  });
  return { cells, lags };
}

/** A group of 300 packs with 1.8 times the hazard of the 900 others, late reports allowed for: the comparison's limits. */
export const ratioAgainstOthers: CoverageTrial = (random) => ratioHolds(random, 300);

/** The same of a group of 18 packs, with about three failures. */
export const ratioOfFewFailures: CoverageTrial = (random) => ratioHolds(random, 18);

function ratioHolds(random: () => number, packs: number): boolean | null {
  const others = ["B", "C", "D"].map((group) => ({ group, meanLife: 3000, packs: 300 }));
  const { cells, lags } = fleetOf(random, [{ group: "A", meanLife: 3000 / 1.8, packs }, ...others]);
  const table = { cells, excluded: [] };
  const reporting = reportingOf(reportingLag(lags));
  const compared = withRatios(compareStrata(table, reporting), table, reporting, ({ group }) => group === "A");
  const ratio = compared.groups.find(({ group }) => group === "A")?.ratio ?? null;
  return ratio === null ? null : holds(ratio, 1.8);
}

/** Returns of 400 customers by a year, 0.15 each on average, some customers three times as often as others. */
export const returnsOfCustomers: CoverageTrial = (random) => {
  const systems = Array.from({ length: 400 }, () => {
    const to = 1 + Math.floor(2 * YEAR * random());
    const meanWait = YEAR / (random() < 0.5 ? 0.075 : 0.225);
    const events: number[] = [];
    for (let at = exponential(random, meanWait); at <= to; at += exponential(random, meanWait)) events.push(at);
    return { to, events };
  });
  const at = meanCumulativeFunction(systems).findLast(({ age }) => age <= YEAR);
  return at === undefined ? null : holds(at, 0.15);
};

/** Forty small groups whose true rates spread by a gamma distribution of shape 4: share of the groups held. */
export const rankedGroups: CoverageTrial = (random) => {
  const groups = Array.from({ length: 40 }, () => {
    const rate =
      (exponential(random, 1) + exponential(random, 1) + exponential(random, 1) + exponential(random, 1)) / 4;
    const exposure = 2 + 10 * random();
    let count = 0;
    for (let at = exponential(random, 1 / rate); at <= exposure; at += exponential(random, 1 / rate)) count += 1;
    return { rate, exposure, count };
  });
  const fit = empiricalBayesRates(groups);
  if (fit.kind === "refused") return null;
  const held = fit.rates.filter((limits, i) => holds(limits, groups[i]?.rate ?? Number.NaN));
  return held.length / groups.length;
};

/** Share failed by a year of one of two faults: 400 packs, 10 in 100 fail by then, six of ten of them of this fault. */
export const shareOfFault: CoverageTrial = (random) => {
  const tally = new CauseTally();
  for (let pack = 0; pack < 400; pack++) {
    const inUse = 1 + Math.floor(2 * YEAR * random());
    const fails = Math.max(1, Math.ceil(exponential(random, -YEAR / Math.log(0.9))));
    const fault = random() < 0.6 ? "one" : "other";
    tally.add(0, Math.min(inUse, fails), fails <= inUse ? fault : null);
  }
  const steps = cumulativeIncidence(tally.counts()).find(({ cause }) => cause === "one")?.steps ?? [];
  const at = steps.findLast(({ age }) => age <= YEAR);
  return at === undefined ? null : holds(at, 0.06);
};

/** Times of its likes, as told beside a signal: 300 packs of 1.8 times the hazard of 900 others, late reports allowed for. */
export const timesOfItsLikes: CoverageTrial = (random) => {
  const others = ["B", "C", "D"].map((group) => ({ group, meanLife: 3000, packs: 300 }));
  const { cells, lags } = fleetOf(random, [{ group: "A", meanLife: 3000 / 1.8, packs: 300 }, ...others]);
  const reporting = reportingOf(reportingLag(lags));
  const { states } = earlySignals([{ by: "dealer", table: { cells, excluded: [] } }], reporting);
  const state = states.find(({ group }) => group === "A");
  const times = state === undefined ? null : timesOfLikes(state);
  return times === null ? null : holds(times, 1.8);
};

/** Packs sold in six months, 150 each, all reports in; those of one month fail so many times as often. */
function monthsOfSale(random: () => number, times: number) {
  const lives = Array.from({ length: 6 }, (_, i) => {
    const oldest = 30 * (12 - i);
    return Array.from({ length: 150 }, (): SaleMonthLife => {
      const fails = Math.ceil(exponential(random, 1500 / (i === 2 ? times : 1)));
      const soldIn = `2026-0${i + 1}`;
      return {
        soldIn,
        model: "M",
        entryDays: 0,
        exitDays: Math.min(oldest, fails),
        failed: fails <= oldest,
        goesOn: false,
        slackDays: 92,
        packs: 1,
      };
    });
  }).flat();
  return monthTriangle(lives, calendarDate("2027-02-01"), 0, 0).rows;
}

/** One month of sale against the others: 1.5 times as often. */
export const oneMonthOfSale: CoverageTrial = (random) => {
  const times = monthsOfSale(random, 1.5)[2]?.against?.times ?? null;
  return times === null ? null : holds(times, 1.5);
};

/** All months of sale at once: do the limits of every one hold, where all fail alike? */
export const allMonthsOfSale: CoverageTrial = (random) =>
  monthsOfSale(random, 1).every(({ against }) => against === null || holds(against.timesOfMany, 1));

/** The scale of 60 packs of which about four fail within the time watched, with the true shape lent. */
export const assumedShape: CoverageTrial = (random) => {
  const tally = new LifeTally();
  for (let pack = 0; pack < 60; pack++) {
    const life = (-Math.log(1 - random())) ** (1 / 1.5);
    const end = 0.05 + 0.25 * random();
    tally.add(0, Math.min(life, end), life <= end);
  }
  const fit = weibayes(tally.counts(), 1.5);
  return "kind" in fit ? null : holds(fit, 1);
};

/** The part that can fail, where it is preferred: 15 in 100 of 400 packs by one law, watched for 100, 125 ... 600 days. */
export const partThatFails: CoverageTrial = (random) => {
  const life = { line: "confirmed", group: "A", stratum: "M", dispatched: true, entryDays: 0, detail: null } as const;
  const cells = Array.from({ length: 400 }, (): LifeCell => {
    const inUse = 100 + 25 * Math.floor(21 * random());
    const age = Math.max(1, Math.ceil(200 * (-Math.log(1 - random())) ** (1 / 1.5)));
    const fails = random() < 0.15 ? age : Number.POSITIVE_INFINITY;
    const status = fails <= inUse ? "failed" : "running";
    return { ...life, exitDays: Math.min(fails, inUse), slackDays: MOST_SLACK_DAYS, status, packs: 1 };
  });
  const law = settledLaw(cells, [], 0);
  return law.kind === "part-can-fail" ? holds(law.limits.share, 0.15) : null;
};

/** Share of the made-up fleets in which the limits hold the truth, and in how many they were given. */
export function coverageOf(trial: CoverageTrial, fleets: number, random: () => number) {
  let [held, given] = [0, 0];
  for (let fleet = 0; fleet < fleets; fleet++) {
    const outcome = trial(random);
    if (outcome === null) continue;
    given += 1;
    held += Number(outcome);
  }
  return { share: held / given, given };
}
