import { expect, test } from "vitest";
import { costSentence } from "@/lib/reliability/cost-sentences";
import type { FailureCost, KnownCost } from "@/lib/reliability/failure-cost";
import { waitingTotal } from "@/lib/reliability/waiting-returns";
import { backInUseSentence, waitingSentence } from "@/lib/reliability/waiting-sentences";
import { betaBinomial } from "@/lib/stats/beta-binomial";

// scipy.stats.betabinom.pmf(k, 6, 9.5, 3.5), scipy 1.10.1.
test("the number of successes to come is the beta-binomial", () => {
  const expected = [
    0.002685546875, 0.0180089614, 0.06303136489, 0.1486893736, 0.2534477959, 0.3041373551, 0.2099996023,
  ];
  const shares = betaBinomial(6, { successes: 9, failures: 3 });
  expect([...shares].map((share, k) => share / (expected[k] ?? 0)).every((over) => Math.abs(over - 1) < 1e-8)).toBe(
    true,
  );
  expect([...betaBinomial(0, { successes: 9, failures: 3 })]).toEqual([1]);
});

const lines = { lines: [], of: "GW-A", afterCover: 0, spread: 0, lower: 0, upper: 0, relativeError: 0 };
const known: KnownCost = {
  ...lines,
  ...{ kind: "cost", currency: "EUR", mean: 30_000, decided: 9, amounts: [{ share: 1, mean: 30_000, spread: 0 }] },
  beside: { kind: "known", returns: 3, ratio: 1 / 3, lower: 0.1, upper: 1, mean: 0, spread: 0, lines: [] },
};
const unknown: FailureCost = { kind: "unknown", currency: "EUR", of: "GW-B", sentences: ["Too few."] };

test("returns not decided cost what the share of them that will be confirmed costs, between limits", () => {
  const waiting = [
    { group: "GW-A", undecided: 6, backInUse: 4, cost: known },
    { group: "GW-B", undecided: 2, backInUse: 0, cost: unknown },
  ];
  const total = waitingTotal(waiting);
  // 6 of 9.5 in 13 are 4.38; below 2 lie 0.0207 and below 3 0.0837 of the distribution above, so the limits are 2 and 6.
  expect(total?.failures.expected).toBeCloseTo((6 * 9.5) / 13, 9);
  expect(total?.failures).toMatchObject({ lower: 2, upper: 6 });
  expect(total?.cost.expected).toBeCloseTo(((6 * 9.5) / 13) * 30_000, 3);
  expect(total).toMatchObject({ returns: 6, leftOut: { returns: 2, groups: ["GW-B"] } });
  expect(waitingSentence(8, total)).toMatch(
    /^8 returns are not decided yet: .* Of 6 of them 4\.4 will be confirmed failures, between 2 and 6, .* on top \(95 % limits\)\. Of the 2 of GW-B it cannot be told\.$/,
  );
  expect(backInUseSentence(waiting, null, "in the next 6 months")).toMatch(
    /^4 packs put right after a confirmed failure are in use again/,
  );
});

test("a cost that is not of all failures says of how many it is", () => {
  const cost = { expected: 5_640_000, lower: 3_000_000, upper: 9_000_000, currency: "EUR", failures: 61.3 };
  expect(costSentence({ ...cost, unpriced: [] })).toMatch(/^They will cost 56,400 EUR, /);
  expect(costSentence({ ...cost, unpriced: ["TF-A"] })).toMatch(
    /^The 61 of them of which the cost is known will cost 56,400 EUR, /,
  );
});

test("where no cost is known, or nothing waits, that is said", () => {
  expect(waitingTotal([{ group: "GW-B", undecided: 2, backInUse: 0, cost: unknown }])).toBeNull();
  expect(waitingSentence(2, null)).toContain("cannot be told");
  expect(waitingSentence(0, null)).toBe("No return waits for a decision.");
});
