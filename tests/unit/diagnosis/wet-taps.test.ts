import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";
import { simulatePack } from "../../support/plain-pack";
import { fullUse } from "../../support/use-of-a-pack";

// Water by a log: several noisy taps, a probe that drifts, a block that drains (diagnostics.md, F11); at rest nothing shakes a loose wire.

const sound = simulatePack({ seed: 8, model: plainModel, acts: fullUse, intervalS: 10 });

/** Two taps side by side, or two far apart, jump by 150 mV in one row of nine while the pack stands or while it is used; a probe jumps there too. */
function judged(jumps: "at rest" | "in use", secondTap: number, probeJumps = true, insulationEndsKiloohm?: number) {
  const rests = (row: number) => Math.abs(sound.currentA[row] ?? 0) < 0.5;
  const isThen = (row: number) => rests(row) === (jumps === "at rest");
  const errorV = (tap: number, row: number) => (isThen(row) && (row + tap) % 9 === 0 ? 0.15 : 0);
  const cellVoltagesV = sound.cellVoltagesV.map((column, index) =>
    column.map((volt, row) =>
      [6, secondTap].reduce(
        (off, tap) => off + (index + 1 === tap ? errorV(tap, row) : index === tap ? -errorV(tap, row) : 0),
        volt,
      ),
    ),
  );
  const temperatures = sound.temperatures.map((probe, place) => ({
    ...probe,
    valuesC: probe.valuesC.map((warm, row) =>
      probeJumps && place === 1 && isThen(row) && row % 25 === 0 ? warm + 16 : warm,
    ),
  }));
  const insulationKiloohm =
    insulationEndsKiloohm === undefined
      ? null
      : sound.timeS.map((_, row) => 900 - (row / sound.rows) * (900 - insulationEndsKiloohm));
  const log = { ...sound, cellVoltagesV, temperatures, insulationKiloohm };
  const { findings, suggestion } = diagnose({ log, summary: summaryOf(log), model: plainModel });
  return { named: findings.map(({ fault }) => fault), first: findings[0], remedy: suggestion.remedy };
}

test("sense wires side by side that jump while the pack stands, and a probe that jumps as well, are taken for water until somebody has looked", () => {
  expect(judged("at rest", 7)).toMatchObject({
    first: { fault: "water-ingress", safetyClass: "A1" },
    remedy: "isolate",
  });
  // No group is drained, so the wires say where the wet place is: between groups 6 and 8.
  expect(judged("at rest", 7).first).toMatchObject({ fault: "water-ingress", groups: [6, 7, 8] });
});

test("where they jump in use, lie far apart, or no probe jumps, they are loose wires", () => {
  for (const found of [judged("in use", 7), judged("at rest", 12), judged("at rest", 7, false)]) {
    expect(found.named).toContain("sense-wire");
    expect(found.named).not.toContain("water-ingress");
  }
});

test("insulation that falls to a part of what it was bears sense wires out that jump at rest, far above any limit as well", () => {
  expect(judged("at rest", 7, false, 300).first).toMatchObject({ fault: "water-ingress", safetyClass: "A1" });
  expect(judged("at rest", 7, false, 700).named).not.toContain("water-ingress");
  expect(judged("in use", 7, false, 300).named).not.toContain("water-ingress");
});
