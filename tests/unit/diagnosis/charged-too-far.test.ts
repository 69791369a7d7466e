import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { buildLog, evenTimes, probe, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";

const rows = 240;
const aboveFrom = 120;

/** Sixteen groups, a row a minute: charged until group 3 stands at 4.42 V; from there on `laterA` flow, or nothing is logged of any current. */
function chargedTooFar(laterA: number | "not logged") {
  const column = (read: (row: number) => number) => Float64Array.from({ length: rows }, (_, row) => read(row));
  const charged = (row: number) => 0.001 * (laterA === 0 ? Math.min(row, aboveFrom) : row);
  const usual = (row: number) => 3.9 + charged(row);
  const log = buildLog({
    timeS: evenTimes(rows, 60),
    currentA: column((row) => (laterA === "not logged" ? Number.NaN : row < aboveFrom ? 10 : laterA)),
    packVoltageV: column((row) => 16 * usual(row) + (row < aboveFrom ? 0 : 0.4)),
    cellVoltagesV: Array.from({ length: 16 }, (_, group) =>
      column((row) => (group === 2 && row >= aboveFrom ? 4.3 + charged(row) : usual(row))),
    ),
    temperatures: [1, 2, 3].map((number) =>
      probe(
        `Temperature T${number}`,
        column(() => 24),
      ),
    ),
  });
  const { findings, suggestion } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  const finding = findings.find(({ fault, groups }) => fault === "measurement-fault" && groups.includes(3));
  return {
    told: finding?.evidenceFor.join(" "),
    confidence: finding?.confidence ?? 0,
    reasons: suggestion.reasons.join(" "),
  };
}

test("a charge that goes on with a group far above its limit is a protection that does not act", () => {
  const { told, confidence } = chargedTooFar(10);
  expect(told).toContain("stood above 4.35 V for 119 min");
  expect(told).toContain("and nothing cut the charge off");
  expect(confidence).toBeGreaterThan(0.85);
});

test.each([
  [0, "with no charge flowing by then"],
  ["not logged", "no current was logged that would tell whether the charge was cut off"],
] as const)(
  "where %s A flow meanwhile nobody is said to have failed to cut a charge off, and it is still not to be charged",
  (laterA, words) => {
    const { told, confidence, reasons } = chargedTooFar(laterA);
    expect(told).toContain(words);
    expect(told).not.toContain("nothing cut");
    expect(confidence).toBeGreaterThan(0.2);
    expect(confidence).toBeLessThan(0.6);
    expect(reasons).toContain("Do not charge");
  },
);
