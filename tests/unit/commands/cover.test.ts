import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, expect, test } from "vitest";

const folder = mkdtempSync(path.join(tmpdir(), "cover-command-"));
afterAll(() => rmSync(folder, { recursive: true }));

function run(zone: string, ...files: string[]) {
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ["--import", "tsx", "app/_commands/cover.ts", ...files],
    {
      encoding: "utf8",
      env: { ...process.env, TZ: zone },
    },
  );
  return { status, stdout, stderr };
}

function file(name: string, text: string): string {
  const written = path.join(folder, name);
  writeFileSync(written, text);
  return written;
}

test("cases in give answers in the same order, the same on a machine in any zone", { timeout: 30_000 }, () => {
  const cases = file(
    "cases.json",
    JSON.stringify([
      { soldOn: "2024-02-29", zone: "Europe/Berlin", toldAt: "2026-02-28T22:30:00Z", months: 24 },
      { soldOn: "2025-02-30", toldOn: "2026-01-01", months: 24 },
      "no case",
    ]),
  );
  const honolulu = run("Pacific/Honolulu", cases);
  expect(honolulu).toMatchObject({ status: 0, stderr: "" });
  expect(JSON.parse(honolulu.stdout)).toMatchObject([
    { startsOn: "2024-02-29", endsOn: "2026-02-28", toldOn: "2026-02-28", covered: true },
    { refused: expect.stringMatching(/^soldOn/) },
    { refused: expect.any(String) },
  ]);
  expect(run("Pacific/Kiritimati", cases)).toEqual(honolulu);
});

test("unusable input ends with code 2 and one sentence", { timeout: 30_000 }, () => {
  for (const files of [
    [],
    [path.join(folder, "absent.json")],
    [file("text.json", "soldOn")],
    [file("object.json", "{}")],
  ]) {
    const { status, stdout, stderr } = run("UTC", ...files);
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toMatch(/^[^\n]+\n$/);
  }
});
