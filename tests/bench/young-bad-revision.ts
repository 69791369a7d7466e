import { youngBadRevision } from "@/tests/support/known-truth-fleet";
import { worstTwo } from "@/tests/support/rank-revisions";
import { seededRandom } from "@/tests/support/seeded-random";

/**
 * In which share of made fleets is the young bad revision among the worst two? One JSON line for each size of revision.
 * Run: npx tsx tests/bench/young-bad-revision.ts [replicates] [packs per revision ...]
 */
const [replicates = 100, ...sizes] = process.argv.slice(2).map(Number);
for (const packsPerRevision of sizes.length === 0 ? [2000, 6000] : sizes) {
  const random = seededRandom(7);
  const found = { equalAge: 0, naive: 0 };
  for (let i = 0; i < replicates; i++) {
    const worst = worstTwo(random, packsPerRevision);
    if (worst.equalAge.includes(youngBadRevision)) found.equalAge += 1;
    if (worst.naive.includes(youngBadRevision)) found.naive += 1;
  }
  const shareOf = (count: number) => count / replicates;
  console.log(
    JSON.stringify({ packsPerRevision, replicates, equalAge: shareOf(found.equalAge), naive: shareOf(found.naive) }),
  );
}
