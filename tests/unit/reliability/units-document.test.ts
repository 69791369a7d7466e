import { expect, test } from "vitest";
import { createUnitGroups } from "@/lib/reliability/unit-groups";
import { readUnitRow } from "@/lib/reliability/unit-row";
import { type UnitsRequest, unitsDocument } from "@/lib/reliability/units-document";

const columns = { width: 4, group: 0, entry: 1, exit: 2, status: 3 };

const nothingElse: UnitsRequest = { compare: false, weibull: false, forecastHorizon: null };

function documentOf(rows: readonly string[], request = nothingElse) {
  const groups = createUnitGroups();
  for (const [i, text] of rows.entries()) {
    const row = readUnitRow(columns, text.split(","));
    if (row.kind === "unusable") throw new Error(row.reason);
    groups.add(row, i + 2);
  }
  return unitsDocument(groups.finish(), request);
}

test("groups come in the order of the file with survival at failure ages only", () => {
  const { groups } = documentOf(["new,,5,1", "old,,7,0", "new,2,9,0", "new,,9,1", "new,,9,0"]);
  expect(groups.map(({ group, units, failures }) => [group, units, failures])).toEqual([
    ["new", 4, 2],
    ["old", 1, 0],
  ]);
  expect(groups[0]?.survival.map(({ age, atRisk, failures }) => [age, atRisk, failures])).toEqual([
    [5, 4, 1],
    [9, 3, 1],
  ]);
  expect(groups[1]?.survival).toEqual([]);
});

test("refused rows are counted, named by line and leave the others alone", () => {
  const { groups } = documentOf(["A,,5,1", "A,5,5,1", "A,6,5,0", "A,,-3,0", "A,,9,0"]);
  expect(groups[0]).toMatchObject({ units: 2, failures: 1 });
  expect(groups[0]?.warnings).toContain(
    "2 rows were refused because the exit age is not after the entry age (lines 3, 4).",
  );
  expect(groups[0]?.warnings).toContain("1 row was refused because an age is negative (line 5).");
});

test("of many refused rows the first five lines are named and the others counted", () => {
  const { groups } = documentOf(Array.from({ length: 12 }, () => "A,5,5,1"));
  expect(groups[0]?.warnings).toEqual([
    "12 rows were refused because the exit age is not after the entry age (lines 2, 3, 4, 5, 6 and 7 more).",
    "No unit of this group could be counted.",
  ]);
});

test("an exhausted early risk set, unwatched ages and few at risk are each said", () => {
  const [group] = documentOf(["A,1,3,1", ...Array.from({ length: 30 }, () => "A,10,50,0"), "A,10,20,1"]).groups;
  expect(group?.warnings.map((warning) => warning.split(/[:(]/)[0]?.trim())).toEqual([
    "Exhausted risk set",
    "Nobody was watched between ages 0 and 1",
    "Few at risk",
  ]);
});

test("a curve that ends at 0 says where its limits come from", () => {
  const [group] = documentOf(Array.from({ length: 25 }, () => "A,,5,1")).groups;
  expect(group?.warnings).toEqual([
    "All units at risk had failed by age 5: the log-log formula has no limits at survival 0, so the lower limit is 0 " +
      "and the upper one is conservative.",
  ]);
});

test("no number in the document is missing, endless or not a number", () => {
  const document = documentOf(["A,,5,1", "B,,5,0", "C,1,3,1", "C,10,20,1", "D,5,4,1"]);
  expect(JSON.stringify(document)).not.toContain("null");
});

test("what was not asked for is not in the document", () => {
  const document = documentOf(["A,,5,1", "B,,5,0"]);
  expect(Object.keys(document)).toEqual(["groups"]);
  expect(document.groups[0]).not.toHaveProperty("weibull");
});

test("comparison, Weibull and forecast are given or refused in a sentence, group by group", () => {
  const rows = ["A,,50,1", "A,,80,1", "A,,90,1", ...Array.from({ length: 20 }, () => "A,,100,0"), "B,,60,1", "B,,70,0"];
  const document = documentOf(rows, { compare: true, weibull: true, forecastHorizon: 20 });
  expect(document.comparison).toMatchObject({ degreesOfFreedom: 1, groups: [{ group: "A" }, { group: "B" }] });
  expect(document.groups[0]?.weibull).toHaveProperty("shapeLimits");
  expect(document.groups[1]?.weibull).toEqual({
    refused: "A single failure cannot fix the two parameters of a Weibull distribution.",
  });
  expect(document.forecast?.[0]).toMatchObject({ group: "A" });
  expect(document.forecast?.[0]).toHaveProperty("expected");
  expect(document.forecast?.[1]).toHaveProperty("refused");
});
