import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { expect, test } from "vitest";

const folder = mkdtempSync(path.join(tmpdir(), "reliability-"));
const command = ["--import", "tsx", path.resolve("app/_commands/reliability.ts")];

function unitsFile(name: string, text: string): string {
  const file = path.join(folder, name);
  writeFileSync(file, text);
  return file;
}

function run(...args: string[]) {
  return spawnSync(process.execPath, [...command, ...args], { encoding: "utf8" });
}

test("a good file gives one document on standard output and exit 0", () => {
  const file = unitsFile("good.csv", "group,entry,exit,status\r\nA,,6,1\r\nA,,9,0\r\n\r\n");
  const result = run(file);
  expect(result.stderr).toBe("");
  expect(result.status).toBe(0);
  expect(JSON.parse(result.stdout).groups[0]).toMatchObject({ group: "A", units: 2, failures: 1 });
  expect(result.stdout.trim().split("\n")).toHaveLength(1);
});

test("unusable input gives one sentence with its line and exit 2, and no document", () => {
  const cases: [string, RegExp][] = [
    [unitsFile("status.csv", "group,entry,exit,status\nA,,6,1\nA,,6,yes\n"), /line 3: its status is neither 1/],
    [unitsFile("header.csv", "a,b\n1,2\n"), /line 1: the header names no column group, exit, status/],
    [unitsFile("empty.csv", ""), /holds no units/],
    [unitsFile("only-header.csv", "group,entry,exit,status\n"), /holds no units/],
    [unitsFile("quotes.csv", 'group,entry,exit,status\nA,,6,1\nA,,"6,1\n'), /line 3: its quotation marks/],
    [
      unitsFile("huge.csv", "group,entry,exit,status\nA,,1e308,1\n"),
      /line 2: its ages cannot be reckoned with: 0 to 1e308/,
    ],
    [path.join(folder, "absent.csv"), /cannot be read/],
  ];
  for (const [file, sentence] of cases) {
    const result = run(file);
    expect(result.stderr, file).toMatch(sentence);
    expect(result.stderr.trim().split("\n")).toHaveLength(1);
    expect(result.stdout).toBe("");
    expect(result.status).toBe(2);
  }
});

test("a call without a file or with an unknown option is refused", () => {
  for (const args of [[], ["--unknown"]]) expect(run(...args).status).toBe(2);
  const file = unitsFile("good2.csv", "group,entry,exit,status\nA,,6,1\n");
  const calls: [string[], RegExp][] = [
    [[file, "--unknown"], /^Unknown option '--unknown'\. Usage/],
    [[file, file], /^One file of units is read at a time, and 2 are named\. Usage/],
    [[file, "--forecast", "1e400"], /^--forecast is to be a number between .*, not 1e400\. Usage/],
    [[file, "--forecast", "-5"], /^Option '--forecast' argument is ambiguous\. Usage: [^\n]*\n$/],
    [[file, "--cost", "340,120,EUR"], /^--cost needs --forecast/],
  ];
  for (const [args, sentence] of calls) {
    const result = run(...args);
    expect(result.stderr).toMatch(sentence);
    expect([result.status, result.stdout]).toEqual([2, ""]);
  }
});

test("the options add comparison, Weibull fits and forecast to the document", () => {
  const rows = ["A,,50,1", "A,,80,1", ...Array.from({ length: 20 }, () => "A,,100,0"), "B,,60,1", "B,,70,1", "B,,99,0"];
  const file = unitsFile("options.csv", `group,entry,exit,status\n${rows.join("\n")}\n`);
  const document = JSON.parse(run(file, "--compare", "--weibull", "--forecast", "30").stdout);
  expect(Object.keys(document)).toEqual(["groups", "comparison", "forecast"]);
  expect(document.groups[0].weibull).toHaveProperty("scaleLimits");
  for (const horizon of ["0", "soon", "-5"]) expect(run(file, `--forecast=${horizon}`).status).toBe(2);
});

test("modes and an assumed shape are options of the command too", () => {
  const file = unitsFile("modes.csv", "group,entry,exit,status,cause\nA,,6,1,cell\nA,,8,1,joint\nA,,9,0,\n");
  const document = JSON.parse(run(file, "--modes", "--shape", "1.5").stdout);
  expect(document.groups[0].modes.map((mode: { cause: string }) => mode.cause)).toEqual(["cell", "joint"]);
  expect(document.groups[0].weibayes[0].assumedShape).toBe(1.5);
  for (const shape of ["0", "wide"]) expect(run(file, `--shape=${shape}`).status).toBe(2);
});

test("many thousand rows stream through in pieces without losing one", () => {
  const rows = Array.from({ length: 40_000 }, (_, i) => `group ${i % 3},,${1 + (i % 700)},${i % 50 === 0 ? 1 : 0}`);
  const file = unitsFile("many.csv", `group,entry,exit,status\n${rows.join("\n")}\n`);
  const document = JSON.parse(execFileSync(process.execPath, [...command, file], { encoding: "utf8" }));
  const groups: { units: number; failures: number }[] = document.groups;
  expect(groups.reduce((sum, group) => sum + group.units, 0)).toBe(40_000);
  expect(groups.reduce((sum, group) => sum + group.failures, 0)).toBe(800);
});

test("a grid, counts by delay and counts against what was expected are documents of their own", () => {
  const units = unitsFile(
    "grid.csv",
    `group,entry,exit,status\n${["A,,6,1", "A,,40,1", ...Array.from({ length: 9 }, () => "A,,60,0")].join("\n")}\n`,
  );
  expect(JSON.parse(run(units, "--grid", "30").stdout).groups[0].grid).toMatchObject({
    width: 30,
    withdrawn: "at-end",
  });
  const reported = unitsFile("reported.csv", "period,delay,count\n0,0,10\n0,1,5\n1,0,12\n1,1,4\n2,0,9\n");
  expect(Object.keys(JSON.parse(run(reported, "--reported").stdout))).toEqual(["nowcast", "chainLadder"]);
  const counts = unitsFile("counts.csv", "count,expected\n1,0.8\n5,0.9\n");
  expect(Object.keys(JSON.parse(run(counts, "--counts").stdout))).toEqual(["cumulativeSum", "sequentialRatio"]);
  const bad = run(unitsFile("bad-counts.csv", "count,expected\n1,0.8\n1.5,0.9\n"), "--counts");
  expect([bad.status, bad.stdout]).toEqual([2, ""]);
  expect(bad.stderr).toMatch(/line 3: its count must be whole/);
});
