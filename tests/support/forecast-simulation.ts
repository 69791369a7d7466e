import { type ForetoldCost, foretoldCost, foretoldCostOfAll } from "@/lib/reliability/cost-forecast";
import type { DecidedReturns } from "@/lib/reliability/cost-lines";
import { coverBasis, type RunningCell } from "@/lib/reliability/cover-basis";
import { foretell } from "@/lib/reliability/cover-forecast";
import { coverReserve } from "@/lib/reliability/cover-reserve";
import { failureCost } from "@/lib/reliability/failure-cost";
import { foldCounts, totalLimits } from "@/lib/reliability/fold-counts";
import type { Horizon } from "@/lib/reliability/forecast-horizon";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { daysAtMonths } from "@/lib/reliability/months-in-service";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";
import type { CostAssumption } from "@/lib/settlement/cost-assumption";
import { calendarDate } from "@/lib/warranty/calendar";

const COVER_DAYS = 730;
const OLDEST_DAYS = 1000;
const law = { shape: 1.5, scale: 3200 };
/** Remedies of a failure, and what each truly costs: lognormal, so that the program's gamma amounts are not simply the truth. */
const remedies = [
  { remedy: "repair", share: 0.6, mean: 24_000, spread: 12_000 },
  { remedy: "replace", share: 0.4, mean: 95_000, spread: 30_000 },
] as const;

export interface SimulatedFleet {
  readonly packs: number;
  /** Returns that each assumed cost was worked out from. */
  readonly costedReturns: number;
  readonly horizon: Horizon;
}

export interface SimulatedForecast {
  readonly failures: number;
  readonly cost: number;
  readonly lower: number;
  readonly upper: number;
  readonly foretold: ForetoldCost;
}

/**
 * One fleet with known truth: packs sold evenly over 1,000 days, Weibull lives, what is known today put through the program's own
 * forecast, and then the future as it comes. Null where the program told nothing.
 */
export function simulateForecast(random: () => number, fleet: SimulatedFleet): SimulatedForecast | null {
  const revision = simulateRevision(random, fleet, () => assumedCosts(random, fleet.costedReturns));
  if (revision.count.kind === "refused") return null;
  const { failures, cost, count, costOfOne } = revision;
  const foretold = foretoldCost(count, costOfOne);
  return foretold === null ? null : { failures, cost, lower: count.lower, upper: count.upper, foretold };
}

/**
 * So many revisions with the same truth, each with a law of its own fitted to its own packs, and the costs of all told from the
 * same assumptions, which err for all at once: the program's total over them, and what came of all of them.
 */
export function simulateTotal(
  random: () => number,
  revisions: number,
  fleet: SimulatedFleet,
): SimulatedForecast | null {
  const assumptions = assumedCosts(random, fleet.costedReturns);
  const all = Array.from({ length: revisions }, () => simulateRevision(random, fleet, () => assumptions));
  const told = all.flatMap(({ failures, cost: came, count, costOfOne: cost }) =>
    count.kind === "refused" || cost.kind === "unknown" ? [] : [{ failures, came, count, cost }],
  );
  const foretold = foretoldCostOfAll(told);
  if (foretold === null || told.length < revisions) return null;
  return {
    failures: told.reduce((sum, { failures }) => sum + failures, 0),
    cost: told.reduce((sum, { came }) => sum + came, 0),
    ...totalLimits(foldCounts(told.map(({ count }) => count.distribution))),
    foretold,
  };
}

function simulateRevision(random: () => number, fleet: SimulatedFleet, assumptions: () => readonly CostAssumption[]) {
  const cells: LifeCell[] = [];
  const running: RunningCell[] = [];
  const seen = new Map<string, number>();
  let [failures, cost] = [0, 0];
  const horizonDays = fleet.horizon === "cover-end" ? COVER_DAYS : daysAtMonths(fleet.horizon);
  for (let i = 0; i < fleet.packs; i++) {
    const today = 1 + Math.floor(random() * OLDEST_DAYS);
    const failsAt = Math.max(1, law.scale * (-Math.log(1 - random())) ** (1 / law.shape));
    const end = Math.min(today, COVER_DAYS);
    if (failsAt <= end) {
      const { remedy } = pick(random());
      seen.set(remedy, (seen.get(remedy) ?? 0) + 1);
      cells.push(cell(Math.ceil(failsAt), "failed"));
    } else {
      cells.push(cell(end, today < COVER_DAYS ? "running" : "cover-ended"));
      if (today >= COVER_DAYS) continue;
      running.push({ ageDays: today, coverLeftDays: COVER_DAYS - today, packs: 1 });
      if (failsAt > Math.min(today + horizonDays, COVER_DAYS)) continue;
      failures += 1;
      cost += amount(pick(random()), random);
    }
  }
  const basis = coverBasis(cells, running, knownAtOnce, 0);
  const count = fleet.horizon === "cover-end" ? coverReserve(basis) : foretell(basis, horizonDays);
  return { failures, cost, count, costOfOne: costKnown(assumptions(), seen) };
}

const on = calendarDate("2026-11-29");

/** Assumptions worked out from so many returns of each remedy. */
function assumedCosts(random: () => number, returns: number): CostAssumption[] {
  const common = { model: null, country: null, currency: "EUR", errorMinor: 0, cases: returns, validFrom: on };
  return remedies.flatMap((kind): CostAssumption[] => {
    const sample = Array.from({ length: returns }, () => amount(kind, random));
    const mean = sample.reduce((sum, one) => sum + one, 0) / returns;
    const spread = Math.sqrt(sample.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (returns - 1));
    const { remedy } = kind;
    return [
      { ...common, id: `own ${remedy}`, part: "own-work", remedy, meanMinor: mean, spreadMinor: spread },
      // A dealer's part so small that it does not matter here.
      { ...common, id: `paid ${remedy}`, part: "dealer-payments", remedy, meanMinor: 1, spreadMinor: 0 },
    ];
  });
}

function costKnown(assumptions: readonly CostAssumption[], seen: ReadonlyMap<string, number>) {
  const decided = remedies.flatMap(({ remedy }): DecidedReturns[] => {
    const count = seen.get(remedy) ?? 0;
    return count === 0 ? [] : [{ remedy, country: "DE", returns: count }];
  });
  return failureCost(
    "M",
    { of: "A", failures: decided, others: [], afterCover: 0 },
    { reportingCurrency: "EUR", on, assumptions, rates: [], settled: [] },
  );
}

function pick(u: number): (typeof remedies)[number] {
  return u < remedies[0].share ? remedies[0] : remedies[1];
}

function amount({ mean, spread }: { mean: number; spread: number }, random: () => number): number {
  const logVariance = Math.log1p((spread / mean) ** 2);
  const normal = Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  return mean * Math.exp(Math.sqrt(logVariance) * normal - logVariance / 2);
}

function cell(exitDays: number, status: LifeCell["status"]): LifeCell {
  const kept = { line: "confirmed", group: "A", stratum: "M", dispatched: true, entryDays: 0, detail: null } as const;
  return { ...kept, exitDays, status, slackDays: 92, packs: 1 };
}

export interface Coverage {
  readonly told: number;
  /** Shares of the forecasts told whose 95 % limits held what came. */
  readonly failures: number;
  readonly cost: number;
  /** Mean of what came over what was expected. */
  readonly costRatio: number;
}

export function coverageOf(forecasts: readonly (SimulatedForecast | null)[]): Coverage {
  const told = forecasts.flatMap((one) => (one === null ? [] : [one]));
  const share = (holds: (one: SimulatedForecast) => boolean) => told.filter(holds).length / told.length;
  return {
    told: told.length,
    failures: share(({ failures, lower, upper }) => lower <= failures && failures <= upper),
    cost: share(({ cost, foretold }) => foretold.lower <= cost && cost <= foretold.upper),
    costRatio: told.reduce((sum, { cost, foretold }) => sum + cost / foretold.expected, 0) / told.length,
  };
}
