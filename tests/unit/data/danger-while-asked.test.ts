import { mkdtemp, rm, stat, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, expect, test } from "vitest";
import { readFile } from "@/lib/data/reading-worker/read-file";
import { newProgress } from "@/lib/data/reading-worker/reading-task";
import type { Fault, SafetyClass } from "@/lib/diagnosis/finding";
import { graveWarning } from "@/lib/diagnosis/grave-warning";
import { plainModel } from "@/tests/support/plain-model";

const folder = await mkdtemp(path.join(tmpdir(), "bench-asked-"));
afterAll(() => rm(folder, { recursive: true }));

/** A resting pack whose dates name no zone, which is asked about; its two probes read what is given, degC. */
async function asked(probeC: (row: number) => number) {
  const cells = Array.from({ length: plainModel.groups }, (_, at) => `Cell ${at + 1} (V)`);
  const headings = ["Date Time", "Pack Voltage (V)", "Current (A)", "T1 (degC)", "T2 (degC)", ...cells];
  const rows = Array.from({ length: 600 }, (_, row) => {
    const at = new Date(Date.UTC(2026, 9, 20, 8, 0, row)).toISOString().slice(0, 19).replace("T", " ");
    const warm = probeC(row);
    return [at, "62.4", "0.0", warm.toFixed(1), (warm * 0.95).toFixed(1), ...cells.map(() => "3.900")].join(",");
  });
  const file = path.join(folder, "log.csv");
  await writeFile(file, [headings.join(","), ...rows].join("\n"));
  return readFile({
    kind: "read",
    path: file,
    sizeBytes: (await stat(file)).size,
    model: plainModel,
    context: {},
    builtOn: null,
    receivedUnixS: Date.UTC(2026, 10, 1) / 1000,
    columns: { answers: null, remembered: null, ask: "when-unsure" },
    progress: newProgress(),
    helper: null,
    helperStarted: new SharedArrayBuffer(4),
    sharedFromRows: Number.POSITIVE_INFINITY,
  });
}

test("the questions about a file carry what it shows as it stands: a danger waits for no answer", async () => {
  const answer = await asked((row) => 28 + Math.max(0, row - 400) * 0.5);
  if (answer.kind !== "ask" || answer.shows === null) throw new Error(`${answer.kind} instead of questions`);
  expect(answer.questions.asksZone).toBe(true);
  expect(answer.shows.findings[0]).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
  expect(graveWarning(answer.shows.findings)).toMatch(
    /^The readings hold a dangerous event\. Keep everybody away [^.]* emergency services/,
  );
});

test("the questions about a quiet file carry no warning", async () => {
  const answer = await asked(() => 24);
  if (answer.kind !== "ask" || answer.shows === null) throw new Error(`${answer.kind} instead of questions`);
  expect(graveWarning(answer.shows.findings)).toBeNull();
});

test("a warning says what to do once", () => {
  const found = { groups: [], confidence: 0.9, evidenceFor: [], evidenceAgainst: [], nextTest: "None." } as const;
  const warningOf = (fault: Fault, safetyClass: SafetyClass) => graveWarning([{ ...found, fault, safetyClass }]) ?? "";
  expect(warningOf("acute-event", "A0").match(/away/g)).toHaveLength(1);
  for (const fault of ["self-discharge", "sense-wire", "over-discharge"] as const)
    expect(warningOf(fault, "A1").match(/charge it|be charged/g)).toHaveLength(1);
  expect(warningOf("water-ingress", "A1")).toMatch(/do not try to dry it\. Set it apart/);
  expect(warningOf("over-discharge", "A0")).toMatch(/Do not charge it\. Keep everybody away/);
});

test("of several grave findings the warning is that of the gravest class", () => {
  const found = { groups: [], confidence: 0.9, evidenceFor: [], evidenceAgainst: [], nextTest: "None." } as const;
  const leak = { ...found, fault: "self-discharge", safetyClass: "A1" } as const;
  const heat = { ...found, fault: "acute-event", safetyClass: "A0" } as const;
  expect(graveWarning([leak])).toMatch(/Set it apart from everything else\. Do not charge it/);
  expect(graveWarning([leak, heat])).toMatch(/^The readings hold a dangerous event/);
  expect(graveWarning([{ ...leak, safetyClass: "B" }])).toBeNull();
});
