import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { seededRandom } from "@/lib/stats/seeded-random";
import { buildLog, probe, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";

const intervalS = 20;
/** s and A: parked, ridden by turns of load, parked, charged, parked. */
const stages = [
  [4 * 3600, "rest"],
  [1500, "ride"],
  [4 * 3600, "rest"],
  [1500, "charge"],
  [6 * 3600, "rest"],
] as const;

function openCircuitV(percent: number): number {
  const curve = plainModel.openCircuit ?? [];
  const at = Math.max(
    1,
    curve.findIndex(([soc]) => soc >= percent),
  );
  const [low = 0, lowV = 0] = curve[at - 1] ?? [];
  const [high = 0, highV = 0] = curve[at] ?? [];
  return lowV + ((percent - low) / (high - low)) * (highV - lowV);
}

const rideA = [0, -30, -60, -90];

/** All sixteen groups hold so many Ah of the forty they are rated for. */
function judged(holdsAh: number, cycles: number | null) {
  const random = seededRandom(3);
  const currentA = Float64Array.from(
    stages.flatMap(([seconds, what]) =>
      Array.from({ length: seconds / intervalS }, (_, row) =>
        what === "rest" ? 0 : what === "charge" ? 20 : (rideA[Math.floor(row / 2) % 4] ?? 0),
      ),
    ),
  );
  const rows = currentA.length;
  let percent = 92;
  const charge = currentA.map((amp) => {
    percent += (100 * amp * intervalS) / 3600 / holdsAh;
    return percent;
  });
  const cellVoltagesV = Array.from({ length: 16 }, (_, group) =>
    charge.map(
      (soc, row) =>
        Math.round(
          1000 * (openCircuitV(soc) + 0.0009 * (currentA[row] ?? 0) + 0.001 * (random() - 0.5) + 0.0001 * group),
        ) / 1000,
    ),
  );
  const log = buildLog({
    timeS: Float64Array.from({ length: rows }, (_, row) => row * intervalS),
    currentA,
    cellVoltagesV,
    packVoltageV: currentA.map(
      (amp, row) => cellVoltagesV.reduce((sum, column) => sum + (column[row] ?? 0), 0) + 0.003 * amp,
    ),
    temperatures: [1, 2].map((place) =>
      probe(
        `Temperature T${place}`,
        Float64Array.from({ length: rows }, () => 22 + Math.round(random() * 2) / 10),
      ),
    ),
    cycleCount: cycles === null ? null : new Float64Array(rows).fill(cycles),
  });
  const { findings, suggestion, measurements } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  return {
    findings,
    suggestion,
    health: measurements.find(({ name }) => name === "state-of-health")?.value ?? Number.NaN,
  };
}

test("a pack whose groups are all worn out alike is told as worn, and damaged under 60 % of its rating", () => {
  const { findings, suggestion, health } = judged(21, null);
  expect(health).toBeCloseTo(52.5, -1);
  expect(findings[0]).toMatchObject({ fault: "weak-cell", groups: [], safetyClass: "B" });
  expect(findings[0]?.evidenceFor[0]).toContain("% of its rating");
  expect(suggestion.remedy).not.toBe("return-as-is");
});

test("a pack that has aged early for its cycles is not called sound, and the sentence says what was expected", () => {
  const { findings, suggestion, health } = judged(31, 60);
  expect(health).toBeCloseTo(77.5, -1);
  expect(findings.map(({ fault }) => fault)).not.toContain("no-fault-found");
  expect(suggestion.reasons.join(" ")).toContain("it has aged early");
  expect(suggestion.reasons.join(" ")).toContain("after 60 cycles");
});

test("a pack that holds what its cycles let expect, or whose cycles nobody knows, is not called aged", () => {
  for (const { findings, suggestion } of [judged(39, 60), judged(34, 700), judged(34, null)]) {
    expect(findings.map(({ fault }) => fault)).not.toContain("weak-cell");
    expect(suggestion.reasons.join(" ")).not.toMatch(/aged early|worn out/);
  }
});
