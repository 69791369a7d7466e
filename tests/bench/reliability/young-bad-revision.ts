import { clopperPearsonLimits } from "@/lib/stats/binomial-limits";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { knownTruthCells } from "@/tests/support/known-truth-cells";
import { youngBadRevision } from "@/tests/support/known-truth-fleet";
import { rankingRules, worstTwo, worstTwoByRule } from "@/tests/support/rank-revisions";
import { seededRandom } from "@/tests/support/seeded-random";

/**
 * In which share of made fleets is the young bad revision among the worst two, by each honest rule to rank by? One line a size of revision
 * and rule, with exact 95 % limits; `naive` is by returns over packs in use. The rules that the page leads and ranks by are "p" and
 * "drawn towards the average". `npm run -s bench -- young-bad-revision [replicates] [packs per revision ...]`, seed 7. What nobody
 * could better is told by `young-bad-bound`.
 */
export async function* rows([replicates = "200", ...sizes]: readonly string[]): AsyncIterable<object> {
  const fleets = Number(replicates);
  for (const packsPerRevision of sizes.length === 0 ? [2000, 6000] : sizes.map(Number)) {
    const random = seededRandom(7);
    let naive = 0;
    const found = new Map(rankingRules.map((rule) => [rule, { ofAll: 0, ofMature: 0 }]));
    for (let i = 0; i < fleets; i++) {
      const lags: TruncatedLag[] = [];
      const table = knownTruthCells(random, packsPerRevision, lags);
      if (worstTwo(table, lags).naive.includes(youngBadRevision)) naive += 1;
      for (const { rule, ofAll, ofMature } of worstTwoByRule(table, lags)) {
        const counted = found.get(rule);
        if (counted === undefined) continue;
        if (ofAll.includes(youngBadRevision)) counted.ofAll += 1;
        if (ofMature.includes(youngBadRevision)) counted.ofMature += 1;
      }
    }
    yield { packsPerRevision, fleets, by: "naive", ...shareOf(naive, fleets) };
    for (const [by, { ofAll, ofMature }] of found)
      for (const [of, count] of [
        ["all twelve", ofAll],
        ["those with a share by six months", ofMature],
      ] as const)
        yield { packsPerRevision, fleets, by, of, ...shareOf(count, fleets) };
  }
}

function shareOf(count: number, fleets: number) {
  const { lower, upper } = clopperPearsonLimits(count, fleets);
  return { share: count / fleets, lower, upper };
}
