import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, expect, test } from "vitest";
import { packText } from "@/tests/support/pack-file";

const folder = mkdtempSync(path.join(tmpdir(), "diagnose-command-"));
afterAll(() => rmSync(folder, { recursive: true }));

function run(...parts: string[]) {
  const command = ["--import", "tsx", "app/_commands/diagnose.ts", ...parts];
  const { status, stdout, stderr } = spawnSync(process.execPath, command, { encoding: "utf8" });
  return { status, stdout, stderr };
}

function file(name: string, text: string): string {
  const written = path.join(folder, name);
  writeFileSync(written, text);
  return written;
}

const facts = {
  groups: 4,
  parallel: 1,
  ratedCapacityAh: 40,
  cellMaxV: 4.2,
  cellMinV: 2.8,
  continuousDischargeA: 120,
  peakDischargeA: 240,
  peakSeconds: 10,
  chargeMaxA: 40,
  chargeMinTemperatureC: 0,
  chargeMaxTemperatureC: 45,
  cyclesTo80Percent: 1000,
};
const model = file("model.json", JSON.stringify(facts));

test("a readings file gives one document with the promised names and nothing else", { timeout: 30_000 }, () => {
  const readings = file("good.csv", `${packText(4, 300)}1,2\n`);
  const { status, stdout, stderr } = run(readings, "--model", model);
  expect([status, stderr]).toEqual([0, ""]);
  expect(stdout.trimEnd()).not.toContain("\n");
  const document = JSON.parse(stdout);
  expect(document.file).toMatchObject({
    rows: 300,
    rejected: [{ line: 302, reason: "2 values where the header has 9" }],
    groups: 4,
    currentSign: "charge-positive",
    coverage: 1,
    timeRepairs: 0,
  });
  expect(Object.keys(document)).toEqual(["file", "measurements", "findings", "suggestion", "unseen", "thresholds"]);
  expect(Object.keys(document.suggestion)).toEqual([
    "remedy",
    "reasons",
    "plainReasons",
    "wouldChange",
    "missing",
    "ruleVersion",
  ]);
  for (const one of document.unseen) expect(Object.keys(one)).toEqual(["fault", "because", "next"]);
  for (const finding of document.findings) {
    expect(Object.keys(finding)).toEqual([
      "fault",
      "groups",
      "confidence",
      "safetyClass",
      "for",
      "against",
      "nextTest",
    ]);
  }
});

test("a mapping names the columns", { timeout: 30_000 }, () => {
  const readings = file("mapped.csv", packText(4, 60).replace("Cell 01 Voltage / V", "links unten"));
  const map = file("map.json", JSON.stringify({ "links unten": "Cell 01 Voltage / V" }));
  expect(JSON.parse(run(readings, "--model", model, "--map", map).stdout).file).toMatchObject({ rows: 60, groups: 4 });
});

test("the build record is set beside what the log shows, and changes nothing else of the document", {
  timeout: 60_000,
}, () => {
  const readings = file("as-found.csv", packText(4, 300));
  // Ohm's law: the log's four groups of 1 milliohm each (tests/support/pack-file.ts) sag 0.4 V at 100 A.
  const record = { loadTestCurrentA: 100, loadTestSagV: 0.35, groupResistanceMilliohm: [1, 1, 1, 1] };
  const built = file("built.json", JSON.stringify(record));
  const { status, stdout, stderr } = run(readings, "--model", model, "--built", built);
  expect([status, stderr]).toEqual([0, ""]);
  const { besideBuilt, ...document } = JSON.parse(stdout);
  expect(besideBuilt).toEqual([
    "At 100 A its groups alone would sag 0.40 V by what was found; the whole pack sagged 0.35 V when it was built, leads and switches included.",
  ]);
  expect(document).toEqual(JSON.parse(run(readings, "--model", model).stdout));
});

test("unusable input gives one sentence, nothing on standard output, and exit 2", { timeout: 60_000 }, () => {
  const readings = file("ok.csv", packText(4, 10));
  const cases: [parts: string[], sentence: RegExp][] = [
    [[file("picture.csv", "%PDF-1.4 …"), "--model", model], /picture\.csv: This is a PDF document, not a table/],
    [[file("empty.csv", ""), "--model", model], /empty\.csv: The file is empty\./],
    [[path.join(folder, "absent.csv"), "--model", model], /absent\.csv cannot be read\./],
    [[folder, "--model", model], /cannot be read\./],
    [[readings], /^Name a readings file and its pack model/],
    [[readings, "--model", file("broken.json", "{")], /broken\.json does not hold JSON\./],
    [[readings, "--model", file("short.json", '{"groups":0}')], /short\.json is no pack model: groups/],
    [
      [readings, "--model", model, "--built", file("b.json", '{"capacityAh":-1}')],
      /b\.json is no build record: capacityAh/,
    ],
    [[readings, "--model", model, "--map", file("list.json", "[1]")], /list\.json is no column mapping/],
    [[readings, "--model", model, "--map", file("bad.json", '{"a":"Wheel Size / m"}')], /labels that are not known/],
  ];
  for (const [parts, sentence] of cases) {
    const { status, stdout, stderr } = run(...parts);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(sentence);
    expect(stderr.trimEnd()).not.toContain("\n");
  }
});
