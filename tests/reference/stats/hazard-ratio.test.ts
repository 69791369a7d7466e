import { expect, test } from "vitest";
import { hazardRatio } from "@/lib/stats/hazard-ratio";
import { numberIn, readCheckTable } from "@/tests/support/check-table";
import { countLives, type Life } from "@/tests/support/lives";
import { publishedLives } from "@/tests/support/published-lives";
import { veteranLives } from "@/tests/support/veteran-lives";
import { expectWithinRelative } from "@/tests/support/within-relative";

function estimated(result: ReturnType<typeof hazardRatio>) {
  if (result.kind !== "estimate") throw new Error("an estimate is expected");
  return result;
}

// Freireich et al., Blood 21 (1963) 699-716, weeks in remission; R 4.2.2, survival 3.5-3.
const control = publishedLives("Gehan control");
const treated = publishedLives("Gehan 6-MP");

test("placebo against 6-MP gives the Efron estimate and error of coxph, and mid-p limits", () => {
  // coxph(ties = "efron"): 4.816874; limits by uniroot on the mid-p tails of dhyper(k, ...) * ratio^k, convolved over the failure ages.
  const result = estimated(hazardRatio([[countLives(control), countLives(treated)]], 0));
  expectWithinRelative(result.ratio ?? 0, 4.8168738982794, 1e-10, "ratio");
  expectWithinRelative(result.standardErrorLog ?? 0, 0.41239671770946, 1e-10, "error of its logarithm");
  expectWithinRelative(result.lower, 2.21926841299, 1e-9, "lower");
  expectWithinRelative(result.upper ?? 0, 12.6407344231, 1e-9, "upper");
});

test("each of three revisions with delayed entry against the rest agrees with coxph", ({ skip }) => {
  const rows = readCheckTable("statistics/data/fixture_battery_3rev.csv");
  if (rows === null) return skip("open data not present on this machine");
  const groups = ["A", "B", "C"].map((revision) =>
    countLives(
      rows
        .filter((row) => row.rev === revision)
        .map((u): Life => [numberIn(u, "entry_age"), numberIn(u, "exit_age"), u.failed === "1" ? 1 : 0]),
    ),
  );
  for (const [i, [ratio, standardError]] of [
    [0.8420323001299, 0.3130650775948],
    [1.888895144058, 0.2751960482456],
    [0.5640577332176, 0.3216117672952],
  ].entries()) {
    const result = estimated(hazardRatio([groups], i));
    expectWithinRelative(result.ratio ?? 0, ratio ?? 0, 1e-10, `ratio of ${i}`);
    expectWithinRelative(result.standardErrorLog ?? 0, standardError ?? 0, 1e-10, `error of ${i}`);
  }
});

test("adenocarcinoma against other cell types within treatments agrees with stratified coxph", () => {
  const strata = [1, 2].map((treatment) =>
    [true, false].map((isAdeno) =>
      countLives(veteranLives((arm) => arm.treatment === treatment && (arm.cellType === "adeno") === isAdeno)),
    ),
  );
  const result = estimated(hazardRatio(strata, 0));
  expectWithinRelative(result.ratio ?? 0, 1.855447811225, 1e-10);
  expectWithinRelative(result.standardErrorLog ?? 0, 0.2344483126872, 1e-10);
});

test("where only one side failed the ratio is 0 or unbounded and one limit remains", () => {
  const failing = countLives(Array.from({ length: 8 }, (_, i): Life => [0, 3 + i, 1]));
  const running = countLives(Array.from({ length: 8 }, (): Life => [0, 20, 0]));
  const none = estimated(hazardRatio([[running, failing]], 0));
  expect(none).toMatchObject({ ratio: 0, lower: 0, standardErrorLog: null, failures: 0, otherFailures: 8 });
  // R 4.2.2: at this ratio the chance of none in eight, prod(others / (others + 8 ratio)), is 0.05.
  expectWithinRelative(none.upper ?? 0, 0.183173661957183, 1e-9);
  const all = estimated(hazardRatio([[running, failing]], 1));
  expect(all).toMatchObject({ ratio: null, upper: null });
  expectWithinRelative(all.lower, 1 / (none.upper ?? 0), 1e-9);
});

test("groups never watched at the same failure age cannot be compared", () => {
  const early = countLives([[0, 5, 1]]);
  const late = countLives([[10, 15, 1]]);
  expect(hazardRatio([[early, late]], 0)).toEqual({ kind: "no-comparison" });
});
