import { expect, test } from "vitest";
import { adjustFamily, compareStrata, withRatios } from "@/lib/reliability/compare-strata";
import { type JointLives, lifeTableBy } from "@/lib/reliability/joint-lives";
import type { LifeCell, LifeTable } from "@/lib/reliability/life-cell";
import { notExcluded, nothingSentence } from "@/lib/reliability/not-excluded";
import { knownAtOnce } from "@/lib/reliability/reporting-lag";
import { separateCauses } from "@/lib/reliability/separate-causes";
import { allWorse, compareWatched, standsAlone, watched } from "@/lib/reliability/what-got-worse";
import {
  apartSentence,
  decideSentence,
  effectSentence,
  explainedSentence,
  familiesSentence,
  furtherSentence,
  packsSentence,
  ratioBetween,
  shareSentence,
  sureSentence,
  whatSentence,
} from "@/lib/reliability/worse-sentences";

const life = { entryDays: 0, slackDays: 0, dispatched: true, detail: null, line: "confirmed", stratum: "M" } as const;
function cells(group: string, failures: number, running: number, status: LifeCell["status"] = "failed"): LifeCell[] {
  return [
    ...Array.from({ length: failures }, (_, i) => ({ ...life, group, exitDays: 20 + 9 * i, status, packs: 1 })),
    { ...life, group, exitDays: 400, status: "running", packs: running },
  ];
}
const unsold = {
  group: "C",
  stratum: "M",
  dispatched: false,
  reason: "unsold",
  daysSinceDispatch: null,
  packs: 980,
} as const;
const table: LifeTable = {
  cells: [...cells("A", 10, 990), ...cells("B", 11, 889), ...cells("C", 36, 464)],
  excluded: [unsold],
};

function worse(of: LifeTable = table) {
  const tables = [{ by: "revision" as const, table: of }];
  return allWorse(tables, compareWatched(tables, knownAtOnce, "revision"), knownAtOnce);
}

test("the answer says what fails more, how sure that is, how many packs it concerns and what is to be decided", () => {
  const found = worse();
  expect(found.map(({ effect }) => effect.group)).toEqual(["C"]);
  const [first] = found;
  if (first === undefined) throw new Error("one group is worse");
  expect(whatSentence(first, true)).toMatch(
    /^Revision C, which is built today, fails [0-9.]+ times as often as the other revisions of its model at equal age \(95 % limits [0-9.]+ to [0-9.]+\)\.$/,
  );
  expect(sureSentence(first)).toMatch(
    /^36 failures, where [0-9.]+ were to be expected had all failed alike\. Chance alone hardly ever .* adjusted for the 3 revisions tested: p below 0\.001\)\.$/,
  );
  expect(shareSentence(first)).toMatch(
    /^By 12 months in use about 7\.2 in 100 are confirmed to have failed .* against 1\.1 in 100 .* of the others\.$/,
  );
  expect(packsSentence(first)).toBe(
    "It concerns 500 packs that came into use, 464 of them still running under cover, and 980 packs not known to be sold.",
  );
  expect(packsSentence({ ...first, undecidedReturns: 4 })).toMatch(
    /4 of its returns are still undecided and not counted: were all of them failures, it would have 40 instead of 36\.$/,
  );
  expect(decideSentence(first, true)).toMatch(
    /^To decide: whether revision C goes on being built as it is; whether the 980 packs not known to be sold are held back; .*safety officer at once/,
  );
});

test("failures at ages that no other has reached are named apart and are in no comparison", () => {
  // A is in use for two years, the others for 200 days: of its 34 failures four can be held against them.
  const old = (days: readonly number[]) => days.map((exitDays) => ({ ...life, group: "A", exitDays, packs: 1 }));
  const failed = old([...[20, 60, 100, 140], ...Array.from({ length: 30 }, (_, i) => 210 + 15 * i)]);
  const lives: LifeCell[] = [
    ...failed.map((one) => ({ ...one, status: "failed" as const })),
    { ...life, group: "A", exitDays: 730, status: "running", packs: 100 },
    { ...life, group: "B", exitDays: 90, status: "failed", packs: 1 },
    { ...life, group: "B", exitDays: 200, status: "running", packs: 300 },
  ];
  const compared = withRatios(compareStrata({ cells: lives, excluded: [] }), { cells: lives, excluded: [] });
  const [a] = compared.groups;
  if (a === undefined) throw new Error("A is compared");
  expect(a).toMatchObject({ observed: 4, alone: 30 });
  // At each of the five shared ages A has 134 to 130 of 434 at risk.
  expect(a.expected).toBeCloseTo(134 / 435 + 133 / 434 + 132 / 433 + 132 / 432 + 131 / 431, 10);
  expect(a.expected).toBeLessThan(1.6);
  const told = effectSentence("revision", { ...a, adjustedP: a.p }, 2);
  expect(told).toMatch(/\(exact test over all shared ages, adjusted for the 2 revisions tested/);
  expect(told).toMatch(
    /: 4 failures, where 1\.5 were to be expected .*, and 30 more at ages at which none of the others was watched, which count for nothing here \(exact/,
  );
});

function compared(lives: LifeCell[]) {
  const all = { cells: lives, excluded: [] };
  return withRatios(adjustFamily(compareStrata(all)), all).groups;
}

test("a single failure where a tenth is expected is not told as failing more often", () => {
  const lives = [...cells("LOT-9", 1, 99), ...cells("OTHER", 0, 900)];
  const lot = compared(lives).find(({ group }) => group === "LOT-9");
  if (lot === undefined) throw new Error("the lot is compared");
  expect(lot.p).toBeCloseTo(0.1, 3);
  expect(lot.ratio?.lower).toBeLessThan(1);
  expect(effectSentence("cell-lot", lot, 2)).toMatch(
    /^It is not shown to fail more or less often than the other cell lots, and may fail as often: by its failures so far it would fail more often than .* \(95 % limits 0\.5 or more\)/,
  );
});

test("a group without a failure where two are expected may still fail more often than the others", () => {
  const group = compared([...cells("NEW", 0, 90), ...cells("OLD", 22, 856)]).find((one) => one.group === "NEW");
  if (group === undefined) throw new Error("it is compared");
  expect(group.expected).toBeGreaterThan(1.9);
  expect(group.p).toBeGreaterThan(0.05);
  expect(nothingSentence(2, notExcluded(["NEW"], [group]))).toContain("NEW may fail up to 1.4 times as often as");
  expect(effectSentence("revision", group, 2)).toMatch(/^It is not shown to fail more or less often/);
});

test("groups that fail alike give no finding", () => {
  expect(worse({ cells: [...cells("A", 10, 990), ...cells("B", 11, 889)], excluded: [] })).toEqual([]);
});

test("a ratio without an upper limit says so", () => {
  expect(ratioBetween({ lower: 1.52, upper: null })).toBe("1.5 or more");
  expect(ratioBetween({ lower: 0.04, upper: 12.4 })).toBe("0.04 to 12");
});

test("what comes second says what remains of it once the first is set apart, and nothing where they share no pack", () => {
  const effect = {
    group: "R",
    strata: ["M"],
    observed: 48,
    expected: 35,
    alone: 0,
    comparedAges: null,
    p: 0.004,
    adjustedP: 0.02,
    ratio: null,
    holds: null,
    doubtedP: null,
  };
  const from = [{ by: "cell-lot", group: "L" }] as const;
  const sharing = { ...effect, strata: ["M, of it", "M, not of it"], expected: 39, p: 0.012, adjustedP: 0.036 };
  expect(apartSentence({ by: "revision", effect, apart: { effect: sharing, from, tested: 3 } })).toMatch(
    /with the packs of cell lot L held against each other only, it fails more often than the other revisions \(adjusted for the 3 revisions tested again: p = 0\.036\)\.$/,
  );
  const elsewhere = { ...effect, strata: ["M, not of it"] };
  expect(apartSentence({ by: "revision", effect, apart: { effect: elsewhere, from, tested: 3 } })).toBe("");
  expect(apartSentence({ by: "revision", effect, apart: null })).toBe("");
});

test("a group that fails more only through the packs it shares with a worse one does not stand alone", () => {
  const effect = {
    group: "J",
    strata: ["M"],
    observed: 9,
    expected: 8.5,
    alone: 0,
    comparedAges: null,
    p: 0.6,
    adjustedP: null,
    ratio: null,
    holds: null,
    doubtedP: null,
  };
  expect(standsAlone(effect)).toBe(false);
  expect(standsAlone({ ...effect, expected: 3, adjustedP: 0.001 })).toBe(true);
  expect(standsAlone({ ...effect, expected: 20, adjustedP: 0.001 })).toBe(false);
  expect(standsAlone(null)).toBe(false);
});

test("no share is given over packs of several models, which the ratio compares apart", () => {
  const both = ["M", "N"].flatMap((stratum) => table.cells.map((one) => ({ ...one, stratum })));
  const [first] = worse({ cells: both, excluded: [] });
  expect(first?.effect.strata).toEqual(["M", "N"]);
  expect(first?.atOneAge).toBeNull();
  expect(first && shareSentence(first)).toMatch(/several models or countries/);
});

test("what no longer fails more is told with its ratio and not as sound; what finds no room is named", () => {
  const ratio = {
    kind: "estimate",
    ratio: 1.31,
    lower: 0.7,
    upper: 2.4,
    standardErrorLog: 0.3,
    failures: 9,
    otherFailures: 90,
  } as const;
  const remains = {
    group: "J",
    strata: ["M"],
    observed: 9,
    expected: 7,
    alone: 0,
    comparedAges: null,
    p: 0.4,
    adjustedP: null,
    ratio,
    holds: null,
    doubtedP: null,
  };
  expect(explainedSentence([{ by: "joining-job", group: "J", remains }], "L")).toMatch(
    /is not shown to fail more once those are set apart \(L\): joining job J \(1\.3 times as often, 95 % limits 0\.7 to 2\.4\)\. That is no proof/,
  );
  expect(furtherSentence([])).toBe("");
  expect(furtherSentence([{ by: "cell-lot", group: "L5" }])).toMatch(/^And 1 more fails more even .*: cell lot L5\./);
});

test("the number of families that can lead the card is told as it is, whatever is chosen to be shown below", () => {
  const { cells: all, excluded } = table;
  const tables = [...watched, "country" as const].map((by) => ({ by, table: { cells: all, excluded } }));
  const found = allWorse(tables, compareWatched(tables, knownAtOnce, "country"), knownAtOnce);
  expect(new Set(found.map(({ by }) => by))).toEqual(new Set(watched));
  // 1 - 0.95^7 = 0.302.
  expect(familiesSentence(watched.length)).toMatch(/^Each of the 7 kinds .* up to 30 in 100 pages/);
});

test("a fifth and a sixth finding are named beyond the four that are told", () => {
  const lots = Array.from({ length: 30 }, (_, i) => `L${String(i).padStart(2, "0")}`);
  const lives = lots.flatMap((lot, i): JointLives[] => {
    const failures = i < 6 ? 30 + i : 1;
    const life = (status: "failed" | "running", exits: number[], packs: number[]): JointLives => {
      const filled = (value: number) => Int32Array.from(exits, () => value);
      const [exit, none] = [Int32Array.from(exits), filled(-1)];
      return {
        groups: new Map([["cell-lot", lot]]),
        stratum: "M",
        dispatched: true,
        end: { kind: "life", status, detail: null },
        anyEnd: { status: "running", detail: null },
        runs: {
          entry: filled(0),
          exit,
          slack: filled(92),
          anyExit: none,
          anySlack: none,
          packs: Int32Array.from(packs),
        },
      };
    };
    const ages = Array.from({ length: failures }, (_, k) => 10 + 10 * k + i);
    return [
      life(
        "failed",
        ages,
        ages.map(() => 1),
      ),
      life("running", [400], [100 - failures]),
    ];
  });
  const tables = [{ by: "cell-lot" as const, table: lifeTableBy(lives, "cell-lot") }];
  const all = allWorse(tables, compareWatched(tables, knownAtOnce, "cell-lot"), knownAtOnce);
  const { leading, further } = separateCauses(all, lives, () => knownAtOnce);
  expect(leading).toHaveLength(4);
  expect(further).toHaveLength(2);
  expect([...leading.map(({ effect }) => effect.group), ...further.map(({ group }) => group)].sort()).toEqual(
    lots.slice(0, 6),
  );
});
