import { expect, test } from "vitest";
import { diagnoseAndDraw } from "@/lib/diagnosis/diagnose";
import type { ReadingLog } from "@/lib/readings/reading-log";
import { buildLog, constant, evenTimes, probe, summaryOf } from "../../support/log-builder";
import { plainModel } from "../../support/plain-model";

const rows = 600;

/** Sixteen groups of a pack at 3.6 V, both switches on, a row a second, with a change made to it; gives the places of one fault. */
function placesOf(fault: string, change: (log: ReadingLog) => Partial<ReadingLog>) {
  const plain = buildLog({
    timeS: evenTimes(rows, 1),
    currentA: constant(rows, 0),
    packVoltageV: constant(rows, 16 * 3.6),
    cellVoltagesV: Array.from({ length: 16 }, () => constant(rows, 3.6)),
    temperatures: [1, 2].map((number) => probe(`Temperature T${number}`, constant(rows, 24))),
    chargeSwitch: constant(rows, 1),
    dischargeSwitch: constant(rows, 1),
  });
  const log = { ...plain, ...change(plain) };
  const { diagnosis, drawings } = diagnoseAndDraw({ log, summary: summaryOf(log), model: plainModel });
  return drawings.places
    .filter(({ finding }) => diagnosis.findings[finding]?.fault === fault)
    .map(({ fromRow, toRow, says }) => ({ fromRow, toRow, says }));
}

test("current through a switch that is off is marked where it flows on, not from one late command to another", () => {
  const places = placesOf("power-stage-fault", ({ chargeSwitch, currentA }) => {
    chargeSwitch?.fill(0);
    for (const row of [5, 590]) currentA[row] = 12;
    currentA.fill(12, 300, 320);
    return {};
  });
  expect(places).toEqual([{ fromRow: 300, toRow: 319, says: "current flows through a switch that is commanded off" }]);
});

test("dead terminals behind a switch that is on have their place", () => {
  const places = placesOf("power-stage-fault", ({ packVoltageV }) => {
    packVoltageV.fill(0.4, 200, 260);
    return {};
  });
  expect(places).toEqual([
    { fromRow: 200, toRow: 259, says: "no voltage at the terminals though the switch is commanded on" },
  ]);
});

test("a probe of the switches that reads what is no temperature has its place", () => {
  const mosfetTemperatureC = Float64Array.from({ length: rows }, (_, row) =>
    row >= 400 && row < 500 ? -40 : 30 + (row % 40) / 4,
  );
  expect(placesOf("temperature-sensor", () => ({ mosfetTemperatureC }))).toEqual([
    { fromRow: 400, toRow: 499, says: "Switch temperature reads as if its wire were cut" },
  ]);
});
