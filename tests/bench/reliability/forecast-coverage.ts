import { coverageOf, type SimulatedFleet, simulateForecast, simulateTotal } from "@/tests/support/forecast-simulation";
import { seededRandom } from "@/tests/support/seeded-random";

const fleets: readonly SimulatedFleet[] = [
  { packs: 150, costedReturns: 8, horizon: 12 },
  { packs: 600, costedReturns: 25, horizon: 3 },
  { packs: 600, costedReturns: 25, horizon: 6 },
  { packs: 600, costedReturns: 25, horizon: 12 },
  { packs: 3000, costedReturns: 25, horizon: "cover-end" },
];

/** The total over revisions that share their assumed costs. */
const REVISIONS_IN_TOTAL = 4;
const inTotal: SimulatedFleet = { packs: 600, costedReturns: 25, horizon: "cover-end" };

/**
 * How often do the 95 % limits of failures and of cost hold what comes, in fleets of known truth? One line a fleet.
 * `npm run -s bench -- forecast-coverage [replicates]`, seed 20261129. Found with 1000 replicates: see the short test
 * tests/reference/reliability/forecast-coverage.test.ts.
 */
export async function* rows([replicates = "1000"]: readonly string[]): AsyncIterable<object> {
  for (const fleet of fleets) {
    const random = seededRandom(20_261_129);
    const forecasts = Array.from({ length: Number(replicates) }, () => simulateForecast(random, fleet));
    yield { ...fleet, replicates: Number(replicates), ...coverageOf(forecasts) };
  }
  const random = seededRandom(20_261_129);
  const totals = Array.from({ length: Number(replicates) }, () => simulateTotal(random, REVISIONS_IN_TOTAL, inTotal));
  yield { ...inTotal, revisions: REVISIONS_IN_TOTAL, replicates: Number(replicates), ...coverageOf(totals) };
}
