import { expect, test } from "vitest";
import { youngBadRevision } from "@/tests/support/known-truth-fleet";
import { worstTwo } from "@/tests/support/rank-revisions";
import { seededRandom } from "@/tests/support/seeded-random";

// A short version of `tests/bench/young-bad-revision.ts`. The truth is put in: hazard 1.53 times that of the others, share
// failed by 182.6 days 1 - exp(-(182.6 / 6790)^1.2) = 1.30 in 100 for the bad ones, 0.85 in 100 for the others.

test("the young bad revision is among the worst two at equal age, and not by returns over dispatched packs", () => {
  const random = seededRandom(9);
  for (let replicate = 0; replicate < 2; replicate++) {
    const { equalAge, naive } = worstTwo(random, 5000);
    expect(equalAge).toContain(youngBadRevision);
    expect(naive).not.toContain(youngBadRevision);
  }
});
