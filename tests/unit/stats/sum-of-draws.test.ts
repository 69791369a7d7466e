import { expect, test } from "vitest";
import { seededRandom } from "@/lib/stats/seeded-random";
import { chancesOfSum, type Draws } from "@/lib/stats/sum-of-draws";

function drawsOf(each: readonly { readonly chances: readonly number[]; readonly times?: number }[]): Draws {
  let next = 0;
  const start = Int32Array.from(each, ({ chances }) => {
    next += chances.length;
    return next - chances.length;
  });
  return {
    count: each.length,
    chances: Float64Array.from(each.flatMap(({ chances }) => chances)),
    start,
    degree: Int32Array.from(each, ({ chances }) => chances.length - 1),
    power: Int32Array.from(each, ({ times = 1 }) => times),
  };
}

/** One after the other, as one would by hand. */
function byHand(each: Parameters<typeof drawsOf>[0]): number[] {
  let sum = [1];
  for (const { chances, times = 1 } of each) {
    for (let drawn = 0; drawn < times; drawn++) {
      const next = Array.from({ length: sum.length + chances.length - 1 }, () => 0);
      for (const [i, before] of sum.entries())
        for (const [k, chance] of chances.entries()) next[i + k] = (next[i + k] ?? 0) + before * chance;
      sum = next;
    }
  }
  return sum;
}

const random = seededRandom(7);
const yesOrNo = (share: number) => [1 - share, share];
/** Of three drawn among ten, four of them its own. */
const ofThree = [20 / 120, 60 / 120, 36 / 120, 4 / 120];

test.each([
  ["few draws", [{ chances: yesOrNo(0.02), times: 5 }, { chances: ofThree }]],
  ["many alike", [{ chances: yesOrNo(0.3), times: 400 }]],
  ["many unlike", Array.from({ length: 300 }, () => ({ chances: yesOrNo(random()), times: 2 }))],
  ["many rare ones", Array.from({ length: 4000 }, () => ({ chances: yesOrNo(0.02 * random()) }))],
  ["several at once", Array.from({ length: 90 }, (_, i) => ({ chances: i % 2 === 0 ? ofThree : yesOrNo(0.9) }))],
])("chances of a sum of %s are those of adding one draw after the other", (_, each) => {
  const { first, chances } = chancesOfSum(drawsOf(each));
  for (const [k, chance] of byHand(each).entries()) {
    expect(Math.abs((chances[k - first] ?? 0) - chance)).toBeLessThan(1e-14);
  }
});

// R 4.2.2: dbinom(c(1150, 1200, 1260), 4000, 0.3)
test.each([
  [1150, 0.003108768902833],
  [1200, 0.01376373764565],
  [1260, 0.001624776187059],
])("%d of 4000 draws of 0.3 have the binomial chance to ten digits", (number, chance) => {
  const { first, chances } = chancesOfSum(drawsOf([{ chances: yesOrNo(0.3), times: 4000 }]));
  expect((chances[number - first] ?? 0) / chance).toBeCloseTo(1, 10);
});
