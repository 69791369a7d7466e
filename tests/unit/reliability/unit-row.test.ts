import { expect, test } from "vitest";
import { readUnitHeader, readUnitRow, type UnitColumns } from "@/lib/reliability/unit-row";

const columns: UnitColumns = { width: 4, group: 0, entry: 1, exit: 2, status: 3 };

test("the header is read in any order and case, with a byte order mark and other columns beside", () => {
  expect(readUnitHeader(["\ufeffStatus", " exit ", "colour", "GROUP", "entry"])).toEqual({
    kind: "columns",
    columns: { width: 5, group: 3, entry: 4, exit: 1, status: 0 },
  });
});

test("a header without an entry column means that all units start at 0", () => {
  const header = readUnitHeader(["group", "exit", "status"]);
  expect(header).toMatchObject({ kind: "columns", columns: { entry: null } });
  if (header.kind !== "columns") return;
  expect(readUnitRow(header.columns, ["A", "9", "0"])).toMatchObject({ entryAge: 0, exitAge: 9, failed: false });
});

test("a header that lacks or repeats a column is unusable", () => {
  expect(readUnitHeader(["group", "entry", "age"])).toMatchObject({ kind: "unusable" });
  expect(readUnitHeader(["group", "exit", "status", "exit"])).toMatchObject({ kind: "unusable" });
});

test("a row gives group, ages and whether it failed, and an empty entry is 0", () => {
  expect(readUnitRow(columns, [" A ", "", "12.5", "1"])).toEqual({
    kind: "unit",
    group: "A",
    entryAge: 0,
    exitAge: 12.5,
    failed: true,
  });
});

test("a decimal comma is an age where semicolons part the fields, and none where commas do", () => {
  expect(readUnitRow(columns, ["A", "0,5", "10,5", "1"], ";")).toMatchObject({ entryAge: 0.5, exitAge: 10.5 });
  expect(readUnitRow(columns, ["A", "", "1.234,5", "1"], ";")).toMatchObject({ kind: "unusable" });
  expect(readUnitRow(columns, ["A", "", "10,5", "1"], ",")).toMatchObject({ kind: "unusable" });
  expect(readUnitRow(columns, ["A", ".5", "7.", "0"])).toMatchObject({ entryAge: 0.5, exitAge: 7 });
});

test("ages that cannot be true refuse the row only", () => {
  expect(readUnitRow(columns, ["A", "5", "5", "1"])).toMatchObject({
    kind: "refused",
    problem: "exit-not-after-entry",
  });
  expect(readUnitRow(columns, ["A", "9", "5", "0"])).toMatchObject({
    kind: "refused",
    problem: "exit-not-after-entry",
  });
  expect(readUnitRow(columns, ["A", "", "0", "0"])).toMatchObject({ kind: "refused", problem: "exit-not-after-entry" });
  expect(readUnitRow(columns, ["A", "-1", "5", "0"])).toMatchObject({ kind: "refused", problem: "negative-age" });
});

test("what is no number, no status, no group or not the promised width makes the file unusable", () => {
  const rows = [
    ["A", "0", "", "1"],
    ["A", "0", "0x10", "1"],
    ["A", "0", "NaN", "1"],
    ["A", "0", "1e999", "1"],
    ["A", "zero", "5", "1"],
    ["A", "0", "5", "2"],
    ["A", "0", "5", ""],
    ["", "0", "5", "1"],
    ["A", "0", "5"],
    ["A", "0", "5", "1", ""],
  ];
  for (const row of rows) expect(readUnitRow(columns, row), row.join()).toMatchObject({ kind: "unusable" });
});
