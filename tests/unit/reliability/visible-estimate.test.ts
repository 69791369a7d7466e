import { expect, test } from "vitest";
import { groupReport } from "@/lib/reliability/group-report";
import type { LifeCell } from "@/lib/reliability/life-cell";
import { knownAtOnce, reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import { correctedShares } from "@/lib/reliability/visible-estimate";
import { allWorse, compareWatched } from "@/lib/reliability/what-got-worse";
import { shareSentence } from "@/lib/reliability/worse-sentences";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { seededRandom } from "@/tests/support/seeded-random";

const SCALE_DAYS = 900;
const THREE_MONTHS_DAYS = 91;

/** Packs sold between `youngest` and `oldest` days ago, constant hazard; of the failures told half are confirmed within 26 days. */
function fleetOf(
  random: () => number,
  group: string,
  packs: number,
  scaleDays: number,
  [youngest, oldest] = [30, 210],
) {
  const lags: TruncatedLag[] = [];
  const life = {
    line: "confirmed",
    group,
    stratum: "M",
    entryDays: 0,
    dispatched: true,
    detail: null,
    packs: 1,
  } as const;
  const cells = Array.from({ length: packs }, (): LifeCell => {
    const today = Math.ceil(youngest + (oldest - youngest) * random());
    const fails = Math.max(1, Math.ceil(-scaleDays * Math.log(1 - random())));
    if (fails > today) return { ...life, exitDays: today, slackDays: 0, status: "running" };
    const lag = Math.min(85, Math.floor(7 - 27 * Math.log(1 - random())));
    const isConfirmed = fails + lag <= today;
    if (isConfirmed) lags.push({ lag, longest: today - fails });
    const slackDays = Math.min(92, today - fails);
    return { ...life, exitDays: fails, slackDays, status: isConfirmed ? "failed" : "undecided" };
  });
  return { cells, lags };
}

test("the share said first is the true one, where the share of what is known is a fifth too low", () => {
  const random = seededRandom(8);
  const truth = 1 - Math.exp(-THREE_MONTHS_DAYS / SCALE_DAYS);
  let [headline, plain] = [0, 0];
  for (let i = 0; i < 12; i++) {
    const { cells, lags } = fleetOf(random, "A", 1500, SCALE_DAYS);
    const shares = correctedShares(cells, reportingOf(reportingLag(lags)));
    const [said, known] = [shares.headline[0], shares.estimates[0]];
    if (said?.kind !== "estimate" || known?.kind !== "estimate") throw new Error("both shares are expected");
    headline += said.probability / 12;
    plain += known.probability / 12;
  }
  // 18,000 packs, about 1,500 failures: 3 in 100 of chance.
  expect(Math.abs(headline / truth - 1)).toBeLessThan(0.06);
  expect(plain / truth).toBeLessThan(0.85);
});

test("without a failure the limit is that of the fewest watched on the way, where most were first watched late", () => {
  // 30 packs from first use to 60 days, 400 from 50 days on: on the way to six months there were once 30, and nobody failed.
  const kept = {
    line: "confirmed",
    group: "A",
    stratum: "M",
    dispatched: true,
    detail: null,
    status: "running",
  } as const;
  const cells: LifeCell[] = [
    { ...kept, entryDays: 0, exitDays: 60, slackDays: 92, packs: 30 },
    { ...kept, entryDays: 50, exitDays: 400, slackDays: 92, packs: 400 },
  ];
  const { lags } = fleetOf(seededRandom(3), "A", 1500, SCALE_DAYS);
  // Clopper & Pearson for 0 of 30: 1 - 0.025^(1/30).
  const limit = 1 - 0.025 ** (1 / 30);
  for (const reporting of [knownAtOnce, reportingOf(reportingLag(lags))]) {
    const { headline, points } = groupReport("revision", "A", { cells, excluded: [] }, reporting);
    const [by3, by6] = headline.map((share) => (share.kind === "estimate" ? share : share.soFar));
    expect(by3?.upper).toBeCloseTo(limit, 9);
    expect(by6?.upper).toBeCloseTo(limit, 9);
    // The curve says the same.
    expect(points.findLast(({ ageDays }) => ageDays <= 183)?.upper).toBeCloseTo(limit, 9);
  }
});

test("where of most packs a failure would not be confirmed yet the share is not told, and why is said", () => {
  const { lags } = fleetOf(seededRandom(3), "A", 1500, SCALE_DAYS);
  const reporting = reportingOf(reportingLag(lags));
  const { cells } = fleetOf(seededRandom(4), "A", 1500, SCALE_DAYS, [92, 100]);
  const { estimates, headline } = correctedShares(cells, reporting);
  expect(estimates[0]?.kind).toBe("estimate");
  expect(headline[0]).toMatchObject({ kind: "cannot-tell", reason: "too-little-known" });
  const { sentence } = groupReport("revision", "A", { cells, excluded: [] }, reporting);
  expect(sentence).toMatch(/by 3 months in use: of most packs that have reached that age a failure there would not be/);
});

test("the curve drawn is the share told at each milestone, with its limits and its doubt", () => {
  const random = seededRandom(12);
  const told = new Set<string>();
  const { lags } = fleetOf(random, "B", 4000, SCALE_DAYS);
  for (const [packs, youngest, oldest] of [
    [1500, 30, 210],
    [1500, 92, 100],
    [120, 30, 420],
    [26, 130, 400],
    [4000, 30, 800],
  ] as const) {
    const { cells } = fleetOf(random, "A", packs, SCALE_DAYS, [youngest, oldest]);
    for (const reporting of [reportingOf(reportingLag(lags)), knownAtOnce]) {
      const { headline, points, curve } = groupReport("revision", "A", { cells, excluded: [] }, reporting);
      for (const share of headline.filter(({ ageDays }) => ageDays < curve.lastAge)) {
        const drawn = points.findLast(({ ageDays }) => ageDays <= share.ageDays);
        told.add(share.kind === "estimate" ? share.kind : share.reason);
        // The line has ended there: too little is known to correct.
        if (drawn === points.at(-1)) {
          expect(share).toMatchObject({ reason: "too-little-known", soFar: null });
          continue;
        }
        const said = share.kind === "estimate" ? share : share.soFar;
        expect(drawn?.doubt).toBe(share.kind === "estimate" ? null : share.reason);
        expect(drawn?.probability).toBeCloseTo(said?.probability ?? 1, 12);
        // Before the first failure a step has the limit that holds at its end.
        if (drawn?.probability === 0) expect(drawn.upper).toBeGreaterThanOrEqual(said?.upper ?? 1);
        else {
          expect(drawn?.lower).toBeCloseTo(said?.lower ?? 1, 12);
          expect(drawn?.upper).toBeCloseTo(said?.upper ?? 1, 12);
        }
      }
    }
  }
  expect([...told].sort()).toEqual(["estimate", "few-at-risk", "few-failures", "too-little-known"]);
});

test("beneath the curve drawn stands what is confirmed so far, where anything is allowed for", () => {
  const { cells, lags } = fleetOf(seededRandom(13), "A", 1500, SCALE_DAYS);
  const table = { cells, excluded: [] };
  const { points, confirmedSoFar } = groupReport("revision", "A", table, reportingOf(reportingLag(lags)));
  const at = (line: readonly { readonly ageDays: number; readonly probability: number }[] | null) =>
    line?.findLast(({ ageDays }) => ageDays <= THREE_MONTHS_DAYS)?.probability ?? Number.NaN;
  expect(at(confirmedSoFar)).toBeLessThan(0.9 * at(points));
  expect(groupReport("revision", "A", table, knownAtOnce).confirmedSoFar).toBeNull();
});

test("where everything is known at once both shares are one", () => {
  const { cells } = fleetOf(seededRandom(5), "A", 800, SCALE_DAYS);
  const { estimates, headline } = correctedShares(cells, knownAtOnce);
  expect(headline[0]).toEqual({
    ...estimates[0],
    probability: expect.closeTo(estimates[0]?.kind === "estimate" ? estimates[0].probability : 0, 12),
    standardError: expect.any(Number),
    lower: expect.any(Number),
    upper: expect.any(Number),
  });
});

test("the headline and the card of what got worse name shares with what is not confirmed allowed for", () => {
  const random = seededRandom(9);
  const [bad, good] = [fleetOf(random, "A", 900, 500), fleetOf(random, "B", 2500, 1500)];
  const reporting = reportingOf(reportingLag([...bad.lags, ...good.lags]));
  const table = { cells: [...bad.cells, ...good.cells], excluded: [] };
  const tables = [{ by: "revision", table }] as const;
  const [worse] = allWorse(tables, compareWatched(tables, reporting, "revision"), reporting);
  if (worse === undefined) throw new Error("revision A fails three times as often");
  const { its } = worse.atOneAge ?? {};
  const known = correctedShares(bad.cells, reporting).estimates.find(({ months }) => months === its?.months);
  if (its === undefined || known?.kind !== "estimate") throw new Error("both shares are expected");
  expect(its.probability).toBeGreaterThan(1.1 * known.probability);
  expect(shareSentence(worse)).toMatch(/have failed, those not confirmed yet allowed for/);
  expect(groupReport("revision", "A", table, reporting).sentence).toMatch(
    /; what is not confirmed yet is allowed for\)\.$/,
  );
});

test("a confidence that takes the delay as known says so where few delays are known", () => {
  const random = seededRandom(9);
  const [bad, good] = [fleetOf(random, "A", 900, 500), fleetOf(random, "B", 2500, 1500)];
  const lags = [...bad.lags, ...good.lags].slice(0, 60);
  const reporting = reportingOf(reportingLag(lags));
  const table = { cells: [...bad.cells, ...good.cells], excluded: [] };
  const tables = [{ by: "revision", table }] as const;
  const [worse] = allWorse(tables, compareWatched(tables, reporting, "revision"), reporting);
  if (worse === undefined) throw new Error("revision A fails three times as often");
  const doubt = "by only 60 delays, whose own doubt is not in these limits: they can be too short";
  expect(shareSentence(worse)).toContain(`at risk, ${doubt}), against`);
  expect(groupReport("revision", "A", table, reporting).sentence).toContain(`is allowed for, ${doubt}).`);
});
