import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { RankingPart } from "@/app/(manager)/reliability/ranking-part";
import { delayTaken } from "@/lib/reliability/delay-csv";
import { groupCsv } from "@/lib/reliability/group-csv";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { rankingCsv } from "@/lib/reliability/ranking-csv";
import { repeatReturns, repeatReturnsSentence } from "@/lib/reliability/repeat-returns";
import { reportingLag } from "@/lib/reliability/reporting-lag";
import { shrunkenRanking } from "@/lib/reliability/shrunken-ranking";
import { startBounds, unknownStarts, unknownStartsSentence } from "@/lib/reliability/unknown-start";

function effect(group: string, observed: number, expected: number) {
  return {
    group,
    observed,
    expected,
    alone: 0,
    comparedAges: null,
    strata: ["M"],
    p: 0.5,
    adjustedP: 0.5,
    ratio: null,
    holds: null,
    doubtedP: null,
  };
}

/** Failures and thousands of hours of ten pumps: Gaver & O'Muircheartaigh, Technometrics 29 (1987) 1-15, as rounded in BUGS. */
const pumps = [
  [5, 94.3],
  [1, 15.7],
  [5, 62.9],
  [14, 126],
  [3, 5.24],
  [19, 31.4],
  [1, 1.05],
  [1, 1.05],
  [4, 2.1],
  [22, 10.5],
] as const;

test("groups are ranked by rates drawn towards the average, the small ones most", () => {
  const ranking = shrunkenRanking(pumps.map(([count, time], i) => effect(`pump ${i + 1}`, count, time)));
  if (ranking.kind === "refused") throw new Error(ranking.reason);
  const of = (group: string) => ranking.groups.find((one) => one.group === group);
  // The maximum of the negative binomial likelihood: R 4.2.2, optim on dnbinom(x, shape, rate / (rate + t)).
  expect(of("pump 1")?.shrunken).toBeCloseTo(0.06093, 5);
  expect(of("pump 9")?.raw).toBeCloseTo(1.90476, 5);
  expect(of("pump 9")?.shrunken).toBeCloseTo(1.4347, 5);
  expect(ranking.groups[0]?.group).toBe("pump 10");
});

test("a group that its delay alone could make stands in the ranking without a number, on the page and in the file", () => {
  const effects = pumps.map(([count, time], i) => ({ ...effect(`pump ${i + 1}`, count, time), holds: i !== 9 }));
  const ranking = shrunkenRanking(effects);
  const choice = { by: "dealer", within: "model" } as const;
  const [, first = "", second = ""] = rankingCsv("2026-11-01", choice, ranking).trim().split(/\r?\n/);
  expect(first).toMatch(/,1,pump 10,22,22,10\.5,,,,,,cannot tell yet: its delay alone could make it$/);
  expect(second).toMatch(/,2,pump 9,4,4,2\.1,1\.90476[0-9]*,1\.4347[0-9]*,/);
  const page = renderToStaticMarkup(RankingPart({ choice, ranking }));
  expect(page.split("<tr").find((row) => row.includes("pump 10"))).toContain(
    "cannot tell yet: its delay alone could make it",
  );
});

test("groups that differ by no more than chance are not ranked", () => {
  const alike = ["A", "B", "C", "D"].map((group) => effect(group, 5, 5));
  expect(shrunkenRanking(alike)).toEqual({ kind: "refused", reason: "no-spread-beyond-chance" });
});

test("a customer's returns count over the chain, with the share that came back more than once", () => {
  const repeats = repeatReturns([
    { from: 0, to: 400, returns: [], places: 7 },
    { from: 0, to: 400, returns: [50, 300], places: 1 },
    { from: 0, to: 200, returns: [120], places: 2 },
  ]);
  expect(repeats).toMatchObject({ places: 10, returns: 4, returned: 3, returnedAgain: 1 });
  // 1/10 at 50, 2/10 at 120, 1/8 at 300 days.
  expect(repeats.atMilestones.map(({ months, mean, atRisk }) => [months, mean, atRisk])).toEqual([
    [3, 0.1, 10],
    [6, 0.30000000000000004, 10],
    [12, 0.42500000000000004, 8],
  ]);
  expect(repeatReturnsSentence(repeats)).toMatch(
    /^Of 10 customers .* 3 came back within cover, 1 of them more than once/,
  );
  expect(repeatReturns([])).toMatchObject({ places: 0, atMilestones: [] });
});

function running(exitDays: number, packs: number, status: LifeCell["status"] = "running"): LifeCell {
  const kept = { line: "confirmed", group: "A", stratum: "M", dispatched: true, entryDays: 0, slackDays: 0 } as const;
  return { ...kept, exitDays, status, detail: null, packs };
}

test("packs without a day of sale are read in four ways beside each other, and the lowest and the highest are named", () => {
  const dated = [running(400, 90), running(60, 10, "failed")];
  const undated = [
    { sinceDispatch: 500, failedAfter: null, packs: 10 },
    { sinceDispatch: 20, failedAfter: null, packs: 4 },
    { sinceDispatch: 500, failedAfter: 130, packs: 1 },
  ];
  // All dated packs were sold 30 or 50 days after their dispatch, half of them each.
  const delays = [30, 50].map((lag) => ({ lag, longest: 1000, count: 50 }));
  const starts = unknownStarts(dated, undated, delays);
  expect(starts).toMatchObject({ packs: 15, failures: 1, delay: { medianDays: 30, mostDays: 50, packs: 100 } });
  expect(starts?.readings.map(({ reading, packs, failures }) => [reading, packs, failures])).toEqual([
    ["left-out", 100, 10],
    ["since-dispatch", 115, 11],
    // Only the failed one has been in use, for a day.
    ["failed-when-new", 101, 11],
    // The four dispatched 20 days ago would not be sold yet.
    ["after-usual-delay", 111, 11],
  ]);
  // By 3 months the pack that failed 130 days after dispatch has failed only if it was sold later than that.
  const shares = starts?.readings.map(({ estimates: [at3] }) => at3?.kind === "estimate" && at3.probability);
  expect(shares?.[0]).toBeCloseTo(0.1, 12);
  expect(shares?.[1]).toBeCloseTo(10 / 111, 12);
  expect(shares?.[2]).toBeCloseTo(1 - (100 / 101) * 0.9, 12);
  if (starts == null) throw new Error("readings are expected");
  const [by3] = startBounds(starts);
  expect(by3?.months).toBe(3);
  expect([by3?.lowest, by3?.highest]).toEqual([Math.min(...(shares ?? []).map(Number)), shares?.[2]]);
  expect(unknownStartsSentence(starts)).toMatch(
    /By 12 months the lowest of the readings is 9.9 in 100 failed and the highest 11 in 100\.$/,
  );
  expect(unknownStarts(dated, [], delays)).toBeNull();
  const few = unknownStarts(dated, undated, [{ lag: 30, longest: 1000, count: 19 }]);
  expect(few?.readings.map(({ reading }) => reading)).toEqual(["left-out", "since-dispatch", "failed-when-new"]);
  const about = {
    dataDate: "2026-11-01",
    by: "revision",
    group: "A",
    shares: { together: { estimates: [], headline: [] }, byModel: [] },
    delay: delayTaken("A", reportingLag([]), null),
  };
  expect(groupCsv({ ...about, unknownStarts: starts }).split("\r\n")).toHaveLength(1 + 3 * 4);
  expect(
    groupCsv({ ...about, unknownStarts: null })
      .trimEnd()
      .split("\r\n"),
  ).toHaveLength(1);
});
