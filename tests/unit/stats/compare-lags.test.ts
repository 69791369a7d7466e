import { expect, test } from "vitest";
import { compareLags } from "@/lib/stats/compare-lags";
import { seededRandom } from "@/tests/support/seeded-random";

/** Lags of a mean of 30 days, or slower, and at most 92, of events up to 400 days old, so far as they can be seen. */
function lagsOf(random: () => number, returns: number, slowerDays = 0) {
  return Array.from({ length: returns }, () => {
    for (;;) {
      const longest = Math.floor(400 * random());
      const lag = Math.floor(slowerDays - 30 * Math.log(1 - random()));
      if (lag <= longest && lag <= 92) return { lag, longest };
    }
  });
}

function calledOf(random: () => number, sizes: readonly number[], rounds: number): number {
  let called = 0;
  for (let round = 0; round < rounds; round++) {
    const test = compareLags(sizes.map((returns) => lagsOf(random, returns)));
    if (test.kind === "test" && test.p < 0.05) called += 1;
  }
  return called;
}

// 5 in 100 are to be called: 11 or fewer of 100 in 99.6, 6 or fewer of 40 in 99 of 100 cases (binomial with 0.05). By
// chi-square 28, 24 and 80 in 100 are.
test.each([
  ["three large dealers and twelve of three returns", [40, 40, 40, ...Array.from({ length: 12 }, () => 3)], 100, 11],
  ["dealers of all sizes", [60, 30, 20, 10, 8, 6, 5, 4, 3, 2, 1, 1], 100, 11],
  [
    "three large dealers and 37 of one to four",
    [40, 40, 40, ...Array.from({ length: 37 }, (_, g) => 1 + (g % 4))],
    40,
    6,
  ],
])("%s that are equally fast are seldom called different", (_, sizes, rounds, most) => {
  expect(calledOf(seededRandom(8), sizes, rounds)).toBeLessThanOrEqual(most);
});

test("one slow dealer of forty returns among many small ones is called nevertheless", () => {
  const random = seededRandom(4);
  let called = 0;
  for (let round = 0; round < 10; round++) {
    const small = Array.from({ length: 12 }, () => lagsOf(random, 3));
    const test = compareLags([lagsOf(random, 40), lagsOf(random, 40), lagsOf(random, 40, 20), ...small]);
    if (test.kind === "test" && test.p < 0.05) called += 1;
  }
  expect(called).toBeGreaterThanOrEqual(8);
});
