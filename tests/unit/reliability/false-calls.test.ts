import { expect, test } from "vitest";
import { CALLED_BELOW, compareAtOnce, type GroupEffect } from "@/lib/reliability/compare-strata";
import { globalSentence } from "@/lib/reliability/comparison-sentences";
import { groupLags } from "@/lib/reliability/group-lags";
import { type JointLives, lifeTableBy } from "@/lib/reliability/joint-lives";
import type { LifeCell } from "@/lib/reliability/life-cell";
import type { Reporting } from "@/lib/reliability/reporting";
import { knownAtOnce, reportingLag, reportingOf } from "@/lib/reliability/reporting-lag";
import { separateCauses } from "@/lib/reliability/separate-causes";
import { allWorse, compareWatched, type WatchedTable } from "@/lib/reliability/what-got-worse";
import { chiSquareTail } from "@/lib/stats/chi-square-tail";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { seededRandom } from "@/tests/support/seeded-random";

// Made-up fleets in which all packs fail alike: whatever is called there is called falsely. 5 in 100 are stated; of 200 fleets
// with that chance 18 or fewer call something in 99.3 of 100 cases (binomial).
const FLEETS = 200;
const MOST_CALLING = 18;

function lives(group: string, packs: number, days: number, rate: number, random: () => number): LifeCell[] {
  const life = {
    line: "confirmed",
    group,
    stratum: "M",
    entryDays: 0,
    slackDays: 92,
    dispatched: true,
    detail: null,
  } as const;
  const failedOn = Array.from({ length: packs }, () => Math.ceil(-Math.log(1 - random()) / rate)).filter(
    (age) => age <= days,
  );
  return [
    ...failedOn.map((exitDays): LifeCell => ({ ...life, exitDays, status: "failed", packs: 1 })),
    { ...life, exitDays: days, status: "running", packs: packs - failedOn.length },
  ];
}

test("over twenty old lots and thirty young ones that fail alike the test of all at once is false as often as stated", () => {
  const random = seededRandom(4);
  const rate = 32 / (20 * 100 * 400);
  let [called, byChiSquare] = [0, 0];
  for (let fleet = 0; fleet < FLEETS; fleet++) {
    const old = Array.from({ length: 20 }, (_, i) => lives(`O${i}`, 100, 400, rate, random));
    // About 0.008 failures to be expected of each.
    const young = Array.from({ length: 30 }, (_, i) => lives(`Y${i}`, 10, 20, rate, random));
    const global = compareAtOnce({ cells: [...old, ...young].flat(), excluded: [] });
    if (global === null) throw new Error("the lots can be compared");
    expect(global.draws).not.toBeNull();
    if (global.p < CALLED_BELOW) called += 1;
    if (chiSquareTail(global.chiSquare, global.degreesOfFreedom) < CALLED_BELOW) byChiSquare += 1;
  }
  expect(called).toBeLessThanOrEqual(MOST_CALLING);
  // What the drawing is for: the table of chi-square calls more of the same fleets than can be chance.
  expect(byChiSquare).toBeGreaterThan(MOST_CALLING);
});

test("a bad half of the lots is called by drawing too, and the sentence says by how many draws", () => {
  const random = seededRandom(5);
  const lots = Array.from({ length: 30 }, (_, i) => lives(`L${i}`, 100, 400, i < 15 ? 1e-4 : 1e-5, random));
  const young = Array.from({ length: 20 }, (_, i) => lives(`Y${i}`, 6, 20, 1e-5, random));
  const global = compareAtOnce({ cells: [...lots, ...young].flat(), excluded: [] });
  expect(global?.p).toBeLessThan(0.01);
  expect(globalSentence({ by: "cell-lot", within: "model" }, global)).toMatch(
    /^The cell lots do not all fail alike within each model \(test of all at once by 999 draws, since of some too few failures .*: p = 0\.0010\)\.$/,
  );
});

/** By the test alone, whatever the delays could make of it. */
function isTestedWorse({ adjustedP, observed, expected }: GroupEffect): boolean {
  return (adjustedP ?? 1) < CALLED_BELOW && observed > expected;
}

/** Packs of one lot and one joining job. */
function jointLives(lot: string, job: string, own: readonly LifeCell[]): JointLives[] {
  return own.map(({ status, exitDays, packs }): JointLives => {
    const one = (days: number) => Int32Array.of(days);
    return {
      groups: new Map([
        ["cell-lot", lot],
        ["joining-job", job],
      ]),
      stratum: "M",
      dispatched: true,
      end: { kind: "life", status: status === "failed" ? "failed" : "running", detail: null },
      anyEnd: { status: "running", detail: null },
      runs: {
        entry: one(0),
        exit: one(exitDays),
        slack: one(92),
        anyExit: one(-1),
        anySlack: one(-1),
        packs: one(packs),
      },
    };
  });
}

test("beside one bad lot a joining job that shares its packs is named as a second cause in few fleets", () => {
  const random = seededRandom(7);
  let [named, shared, byItself] = [0, 0, 0];
  for (let fleet = 0; fleet < FLEETS / 2; fleet++) {
    // Lot 0 fails ten times as often; half of the packs of ten jobs have its cells.
    const all = Array.from({ length: 20 }, (_, job) => {
      const lots = job < 10 ? [0, 1 + (job % 9)] : [1 + (job % 9), 1 + ((job + 4) % 9)];
      return lots.flatMap((lot) =>
        jointLives(`L${lot}`, `J${job}`, lives("", 20, 400, lot === 0 ? 1.5e-3 : 1.5e-4, random)),
      );
    }).flat();
    const tables = (["cell-lot", "joining-job"] as const).map((by) => ({ by, table: lifeTableBy(all, by) }));
    const worse = allWorse(tables, compareWatched(tables, knownAtOnce, "revision"), knownAtOnce);
    const { leading, explained, further } = separateCauses(worse, all, () => knownAtOnce);
    expect(leading[0]?.effect.group).toBe("L0");
    const again = [
      ...leading.slice(1).map(({ apart }) => apart?.effect ?? null),
      ...explained.map((one) => one.remains),
    ];
    shared += again.length;
    if (leading.length + further.length > 1) named += 1;
    if (again.some((one) => one !== null && (one.p ?? 1) < 0.05 && one.observed > one.expected)) byItself += 1;
  }
  // Else nothing was asked again, and nothing could be named falsely.
  expect(shared / (FLEETS / 2)).toBeGreaterThan(1);
  expect(named).toBeLessThanOrEqual(MOST_CALLING / 2);
  // What standing out anew is for: each by itself at 5 %, more fleets would name a second cause than can be chance.
  expect(byItself).toBeGreaterThan(MOST_CALLING / 2);
});

test("where failures are confirmed late neither an old revision nor one of many small dealers is called falsely", () => {
  const random = seededRandom(15);
  const fleets = 40;
  const dealers = [60, 30, 20, 10, 8, 6, 5, 4, 3, 2, 1, 1].flatMap((share, i) =>
    Array.from({ length: share }, () => `D${i}`),
  );
  const life = { line: "confirmed", stratum: "M", entryDays: 0, dispatched: true, detail: null, packs: 1 } as const;
  let [called, withoutDelay] = [0, 0];
  for (let fleet = 0; fleet < fleets; fleet++) {
    const lagsOf = new Map<string, TruncatedLag[]>();
    // Six revisions sold one after the other, 400 packs each; mean delay 43 days, all confirmed after 92.
    const packs = Array.from({ length: 2400 }, (_, i) => {
      const [revision, dealer] = [`R${i % 6}`, dealers[Math.floor(random() * dealers.length)] ?? ""];
      const age = 1 + Math.floor(40 * (5 - (i % 6)) + 40 * random());
      const fails = Math.ceil(-Math.log(1 - random()) * 900);
      const lag = Math.min(92, Math.floor(-43 * Math.log(1 - random())));
      const isConfirmed = fails + lag <= age;
      if (isConfirmed) lagsOf.set(dealer, [...(lagsOf.get(dealer) ?? []), { lag, longest: age - fails }]);
      const status = fails > age ? "running" : isConfirmed ? "failed" : "undecided";
      const slackDays = Math.max(0, Math.min(92, age - fails));
      return { revision, dealer, cell: { ...life, exitDays: Math.min(age, fails), slackDays, status } as const };
    });
    const lag = reportingLag([...lagsOf.values()].flat());
    const tableBy = (by: "revision" | "dealer") => ({
      by,
      table: { cells: packs.map(({ cell, ...of }): LifeCell => ({ ...cell, group: of[by] })), excluded: [] },
    });
    const own = groupLags("dealer", lagsOf, lag).reporting;
    const tables = [tableBy("revision"), { ...tableBy("dealer"), reporting: own }];
    const families = (some: readonly WatchedTable[], reporting: Reporting) =>
      new Set(allWorse(some, compareWatched(some, reporting, "firmware"), reporting).map(({ by }) => by)).size;
    called += families(tables, reportingOf(lag));
    const plain = compareWatched([tableBy("revision"), tableBy("dealer")], knownAtOnce, "firmware");
    withoutDelay += plain.filter(({ comparison }) => comparison.groups.some(isTestedWorse)).length;
  }
  // Of 80 families half of 5 in 100 on this side: 6 or fewer in 99.6 of 100 cases (binomial with 0.025).
  expect(called).toBeLessThanOrEqual(6);
  expect(withoutDelay).toBeGreaterThan(6);
});
