import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { checkDataPath } from "@/tests/support/check-data";
import { coveredBy } from "@/tests/support/covered-tables";

// That each is compared by value, and not only read, is shown by `npm run -s bench -- reference-tables`: it makes the numbers of each table wrong.

test("every table named is read by the test named beside it", () => {
  for (const [table, file] of Object.entries(coveredBy)) {
    const text = readFileSync(path.resolve(import.meta.dirname, "../..", `${file}.ts`), "utf8");
    expect(text.includes(`statistics/ref/${table}`), `${file} reads ${table}`).toBe(true);
  }
});

test("every table of reference values present is covered by a test", ({ skip }) => {
  const folder = checkDataPath("statistics/ref");
  if (folder === null) return skip("open data not present on this machine");
  const tables = readdirSync(folder).filter((file) => file.endsWith(".csv"));
  expect(tables.filter((table) => !(table in coveredBy))).toEqual([]);
});
