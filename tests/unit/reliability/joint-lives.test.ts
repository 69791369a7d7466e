import { expect, test } from "vitest";
import { type JointLives, lifeTableBy } from "@/lib/reliability/joint-lives";

const column = (...days: number[]) => Int32Array.from(days);

const lives: JointLives[] = [
  {
    groups: new Map([["revision", "R-1"]]),
    stratum: "M",
    dispatched: true,
    end: { kind: "life", status: "failed", detail: "weak-cell" },
    anyEnd: { status: "returned", detail: "confirmed" },
    runs: {
      entry: column(0, 30, 0),
      exit: column(200, 200, 200),
      slack: column(92, 92, 5),
      anyExit: column(150, 150, 200),
      anySlack: column(92, 92, 5),
      packs: column(2, 1, 4),
    },
  },
];

test("lives of another entry or slack are cells of their own, equal ones one cell", () => {
  const { cells } = lifeTableBy([...lives, ...lives], "revision");
  const confirmed = cells.filter(({ line }) => line === "confirmed");
  expect(confirmed.map(({ entryDays, exitDays, slackDays, packs }) => [entryDays, exitDays, slackDays, packs])).toEqual(
    [
      [0, 200, 92, 4],
      [0, 200, 5, 8],
      [30, 200, 92, 2],
    ],
  );
});

test("asked for one line alone a table has the cells of that line and no others", () => {
  const both = lifeTableBy(lives, "revision");
  for (const line of ["confirmed", "any-return"] as const) {
    const alone = lifeTableBy(lives, "revision", [], undefined, [line]);
    expect(alone.cells).toEqual(both.cells.filter((cell) => cell.line === line));
    expect(alone.cells.length).toBeGreaterThan(0);
  }
});

test("a place stands on lives alone that ended so lately that a delay can hide anything of them", () => {
  const { cells } = lifeTableBy(lives, "revision", [], () => "P", ["confirmed"]);
  expect(cells.map(({ slackDays, place }) => [slackDays, place])).toEqual([
    [92, undefined],
    [92, undefined],
    [5, "P"],
  ]);
});
