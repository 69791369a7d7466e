import { clopperPearsonLimits } from "@/lib/stats/binomial-limits";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { knownTruthCells } from "@/tests/support/known-truth-cells";
import { youngBadRevision } from "@/tests/support/known-truth-fleet";
import { worstTwo } from "@/tests/support/rank-revisions";
import { seededRandom } from "@/tests/support/seeded-random";

/**
 * In which share of made fleets is the young bad revision among the worst two? One JSON line for each size of revision, with
 * exact 95 % limits. Run: npx tsx tests/bench/young-bad-revision.ts [replicates] [packs per revision ...]
 */
const [replicates = 200, ...sizes] = process.argv.slice(2).map(Number);
for (const packsPerRevision of sizes.length === 0 ? [2000, 6000] : sizes) {
  const random = seededRandom(7);
  const found = { equalAge: 0, naive: 0 };
  for (let i = 0; i < replicates; i++) {
    const lags: TruncatedLag[] = [];
    const table = knownTruthCells(random, packsPerRevision, lags);
    const worst = worstTwo(table, lags);
    if (worst.equalAge.includes(youngBadRevision)) found.equalAge += 1;
    if (worst.naive.includes(youngBadRevision)) found.naive += 1;
  }
  const { lower, upper } = clopperPearsonLimits(found.equalAge, replicates);
  const [share, naive] = [found.equalAge / replicates, found.naive / replicates];
  console.log(JSON.stringify({ packsPerRevision, replicates, share, lower, upper, naive }));
}
