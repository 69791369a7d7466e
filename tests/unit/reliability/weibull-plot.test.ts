import { expect, test } from "vitest";
import { paperHeight, weibullPlot, weibullPlotSentence } from "@/lib/reliability/weibull-plot";
import { countLives, type Life } from "@/tests/support/lives";

/**
 * NIST/SEMATECH e-Handbook, 8.4.1.3 (apr413), Weibull example: ten failures, ten more units running at 500 hours. NIST prints
 * shape 1.7207 and scale 606.528 by maximum likelihood (quoted in public test files that give that address).
 */
const nist: Life[] = [
  ...[54, 187, 216, 240, 244, 335, 361, 373, 375, 386].map((age): Life => [0, age, 1]),
  ...Array.from({ length: 10 }, (): Life => [0, 500, 0]),
];

test("points stand halfway up their steps: (i - 0.5) / n without censoring between failures", () => {
  // Meeker & Escobar (1998), section 6.4.1: with censoring only at the end the halfway position is (i - 0.5) / n.
  const plot = weibullPlot(countLives(nist));
  if (plot.kind !== "plot") throw new Error("a plot is expected");
  for (const [i, { plotted }] of plot.points.entries()) expect(plotted).toBeCloseTo((i + 0.5) / 20, 12);
  expect(plot.shape).toBeCloseTo(1.7208, 3);
  // Likelihood-ratio limits of the shape 0.9056 to 2.8857 (R 4.2.2 survreg): whether failing rises with age is open.
  expect(weibullPlotSentence(plot)).toMatch(
    /^Nothing speaks against one .* 0 of 10 points .* shape 1\.72 \(95 % limits 0\.91 to 2\.89\)\. Whether packs fail more or less often .* cannot be told yet\.$/,
  );
  expect(plot.outside).toBe(0);
});

test("the fitted line is straight on Weibull paper with the shape as its slope, inside its limits", () => {
  const plot = weibullPlot(countLives(nist));
  if (plot.kind !== "plot") throw new Error("a plot is expected");
  const [first, last] = [plot.line[0], plot.line.at(-1)];
  if (first === undefined || last === undefined) throw new Error("a line is expected");
  const slope = (paperHeight(last.failed) - paperHeight(first.failed)) / Math.log(last.ageDays / first.ageDays);
  expect(slope).toBeCloseTo(plot.shape, 9);
  for (const { lower, failed, upper } of plot.line) expect(lower < failed && failed < upper).toBe(true);
});

test("a mix of two kinds of pack leaves the line", () => {
  const weak = Array.from({ length: 30 }, (_, i): Life => [0, 10 + (i % 6), 1]);
  const strong = Array.from({ length: 30 }, (_, i): Life => [0, 800 + 4 * i, 1]);
  const plot = weibullPlot(countLives([...weak, ...strong]));
  expect(plot).toMatchObject({ kind: "plot" });
  expect(weibullPlotSentence(plot)).toMatch(/lie outside its limits/);
});

const running = Array.from({ length: 50 }, (): Life => [0, 400, 0]);
test.each<[string, Life[]]>([
  ["no unit", []],
  ["no failures", running],
  ["one failure", [[0, 30, 1], ...running]],
  ["one unit that failed", [[0, 30, 1]]],
  ["all failed at one age", Array.from({ length: 9 }, (): Life => [0, 30, 1])],
  ["all failures of one age among running", [...Array.from({ length: 9 }, (): Life => [0, 30, 1]), ...running]],
  ["all failed", [10, 20, 40, 80, 160, 320].map((age): Life => [0, age, 1])],
])("%s gives a sentence or a plot without anything that is not a number", (_, lives) => {
  const plot = weibullPlot(countLives(lives));
  expect(weibullPlotSentence(plot)).not.toMatch(/NaN|undefined|Infinity/);
  if (plot.kind !== "plot") return;
  for (const { plotted, fitted } of plot.points) {
    expect(Number.isFinite(paperHeight(plotted)) && Number.isFinite(fitted)).toBe(true);
  }
});
