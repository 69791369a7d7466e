import { expect, test } from "vitest";
import { asRemembered } from "@/lib/readings/column-mapping";
import { hasDoubts } from "@/lib/readings/reading-doubts";
import { logOf, packHeaders, packRows, tableText } from "@/tests/support/pack-file";

const rows = packRows(4, 400);
const turned = rows.map((row) => row.map((value, at) => (at === 2 ? -value : value)));
const withoutSoc = (table: readonly number[][]) => table.map((row) => row.slice(0, -1));
const unlabelled = packHeaders(4).map((header) => (header === "Current / A" ? "current" : header));

test("current that counts charging is recognised and kept", () => {
  const { log, summary } = logOf(tableText(unlabelled, rows));
  expect(summary.currentSign).toBe("charge-positive");
  expect(log.currentA[0]).toBe(-20);
});
test("current that counts discharging is recognised and turned round", () => {
  const { log, summary } = logOf(tableText(unlabelled, turned));
  expect(summary.currentSign).toBe("discharge-positive");
  expect(log.currentA[0]).toBe(-20);
});
test("data that contradict the label are followed, with a remark", () => {
  const { log, summary } = logOf(tableText(packHeaders(4), turned));
  expect(summary.currentSign).toBe("discharge-positive");
  expect(log.currentA[0]).toBe(-20);
  expect(summary.remarks.join(" ")).toMatch(/says that its current is positive when charging, but its own data show/);
});
test("voltage steps alone are enough", () => {
  expect(logOf(tableText(unlabelled.slice(0, -1), withoutSoc(turned))).summary.currentSign).toBe("discharge-positive");
});
test("a file at rest leaves the direction unknown and takes the label", () => {
  const rest = rows.map((row) => row.map((value, at) => (at === 2 ? 0 : value)));
  const { summary } = logOf(tableText(packHeaders(4), rest));
  expect(summary.currentSign).toBe("unknown");
  expect(summary.remarks.join(" ")).toMatch(/taken as the file says/);
});
test("noise is not taken for evidence", () => {
  // The current alternates; the voltages do not answer it.
  const noise = rows.map((row, at) =>
    row.map((value, column) =>
      column === 2 ? value : column === 0 ? value : Number((3.7 + ((at * 7919) % 13) / 1000).toFixed(4)),
    ),
  );
  expect(logOf(tableText(unlabelled.slice(0, -1), withoutSoc(noise))).summary.currentSign).toBe("unknown");
});
test("voltage and state of charge that disagree leave the direction unknown", () => {
  const soc = turned.map((row) => [...row.slice(0, -1), 100 - (row[row.length - 1] ?? 0)]);
  expect(logOf(tableText(unlabelled, soc)).summary.currentSign).toBe("unknown");
});
test("a direction a person confirmed is followed where voltage and state of charge disagree, and nothing is asked again", () => {
  const soc = turned.map((row) => [...row.slice(0, -1), 100 - (row[row.length - 1] ?? 0)]);
  const text = tableText(unlabelled, soc);
  const current = { quantity: "current", number: null, unit: "A", sign: "discharge-positive" } as const;
  for (const mapping of [{ current }, asRemembered({ current })]) {
    const { log, summary, doubts } = logOf(text, { mapping });
    expect([summary.currentSign, log.currentA[0], hasDoubts(doubts)]).toEqual(["discharge-positive", -20, false]);
    expect(summary.remarks.join(" ")).toMatch(
      /disagree .* confirmed as positive when discharging, and that was followed/,
    );
    expect(summary.remarks.join(" ")).not.toContain("the file says");
  }
});
test("a file without a current column says so", () => {
  const { log, summary } = logOf("time,c1,c2\n0,3.7,3.8\n1,3.7,3.8\n");
  expect(summary.currentSign).toBe("unknown");
  expect(log.currentA.every(Number.isNaN)).toBe(true);
});
