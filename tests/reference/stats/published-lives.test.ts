import { expect, test } from "vitest";
import { type CheckRow, numberIn, readCheckTable } from "@/tests/support/check-table";
import type { Life } from "@/tests/support/lives";
import { lungLives, type PublishedSet, publishedLives } from "@/tests/support/published-lives";

// How the files of open data write the lives that are typed in: the column of the age, the cell of a failure, one arm of two, counts.
interface WrittenAs {
  readonly file: string;
  readonly age: string;
  readonly failed: readonly [column: string, cell: string] | null;
  readonly arm?: readonly [column: string, cell: string];
}

const written: Record<PublishedSet, WrittenAs> = {
  "NIST e-Handbook 8.4.1.3": { file: "nist_weibull_apr413", age: "time", failed: ["failed", "1"] },
  "Shock absorber (O'Connor 1985; M&E 1998)": { file: "shock_absorber", age: "miles", failed: ["event", "Failure"] },
  "Lieblein-Zelen bearing (7th obs 48.40)": { file: "lieblein_zelen_bearing", age: "megacycles", failed: null },
  "Bearing cage (Abernethy 1983)": { file: "bearing_cage", age: "hours", failed: ["event", "Failed"] },
  "Nelson diesel fan (1969/1982)": { file: "nelson_fan", age: "hours", failed: ["event", "Fail"] },
  "Gehan 6-MP": { file: "gehan_6mp", age: "time", failed: ["cens", "1"], arm: ["treat", "6-MP"] },
  "Gehan control": { file: "gehan_6mp", age: "time", failed: ["cens", "1"], arm: ["treat", "control"] },
  "aml Maintained": { file: "aml", age: "time", failed: ["status", "1"], arm: ["x", "Maintained"] },
  "aml Nonmaintained": { file: "aml", age: "time", failed: ["status", "1"], arm: ["x", "Nonmaintained"] },
};

const inOrder = (lives: readonly Life[]) =>
  lives.map(([, age, status]) => [age, status]).sort(([a = 0, x = 0], [b = 0, y = 0]) => a - b || x - y);

function livesOf(rows: readonly CheckRow[], { age, failed, arm }: WrittenAs): Life[] {
  return rows
    .filter((row) => arm === undefined || row[arm[0]] === arm[1])
    .flatMap((row) => {
      const status = failed === null || row[failed[0]] === failed[1] ? 1 : 0;
      const count = row.count === undefined ? 1 : numberIn(row, "count");
      return Array.from({ length: count }, (): Life => [0, numberIn(row, age), status]);
    });
}

for (const [name, how] of Object.entries(written)) {
  test(`the lives of "${name}" are typed as the open data have them`, ({ skip }) => {
    const rows = readCheckTable(`statistics/data/${how.file}.csv`);
    if (rows === null) return skip("open data not present on this machine");
    expect(inOrder(publishedLives(name as PublishedSet))).toEqual(inOrder(livesOf(rows, how)));
  });
}

test("the lives of each stratum of the lung cancer data are typed as the open data have them", ({ skip }) => {
  const rows = readCheckTable("statistics/data/lung.csv");
  if (rows === null) return skip("open data not present on this machine");
  const how: WrittenAs = { file: "lung", age: "time", failed: ["status", "2"] };
  for (const sex of [1, 2]) {
    for (const ecog of [0, 1, 2, 3, null]) {
      const inFile = rows.filter((row) => row.sex === `${sex}` && row["ph.ecog"] === `${ecog ?? "NA"}`);
      expect(inOrder(lungLives((stratum) => stratum.sex === sex && stratum.ecog === ecog))).toEqual(
        inOrder(livesOf(inFile, how)),
      );
    }
  }
  expect(lungLives()).toHaveLength(rows.length);
});

test("the typed sets have their published sizes", () => {
  const sizes = {
    "Bearing cage (Abernethy 1983)": 1703,
    "Nelson diesel fan (1969/1982)": 70,
    "Gehan 6-MP": 21,
  } as const;
  for (const [name, size] of Object.entries(sizes)) expect(publishedLives(name as PublishedSet)).toHaveLength(size);
  expect(lungLives()).toHaveLength(228);
});
