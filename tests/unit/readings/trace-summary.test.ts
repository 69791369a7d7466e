import { expect, test } from "vitest";
import { tracePicture } from "@/lib/readings/trace-picture";
import { readTracePicture } from "@/lib/readings/trace-picture.schema";
import { traceExtremes, traceSentence } from "@/lib/readings/trace-summary";
import { buildLog, constant, evenTimes, probe } from "@/tests/support/log-builder";

const ROWS = 1000;

function withSpike() {
  const group = constant(ROWS, 3.7);
  group[500] = 2.9;
  const current = constant(ROWS, 0);
  current[500] = -80;
  return buildLog({
    timeS: evenTimes(ROWS, 10),
    currentA: current,
    cellVoltagesV: [constant(ROWS, 3.8), group],
    temperatures: [probe("Temperature T1", constant(ROWS, 21.5))],
  });
}

test("a spike of one row is in the table with the time of its stretch", () => {
  const picture = tracePicture(withSpike(), [2]);
  const flagged = traceExtremes(picture).find(({ key }) => key === "group-2");
  expect(flagged).toMatchObject({ group: 2, lowest: 2.9, highest: 3.7, lowestAtS: 4980 });
});

test("the sentence says how far group, current and temperature went", () => {
  expect(traceSentence(tracePicture(withSpike(), []))).toBe(
    "The picture spans 2 h 47 min; the lowest cell group went down to 2.900 V after 1 h 23 min; the highest rose to " +
      "3.800 V; the current ran between −80.0 A and 0.0 A; the warmest probe reached 21.5 °C.",
  );
});

test("the power stage is named apart from the probes in the pack", () => {
  const log = buildLog({
    timeS: [0, 1, 2],
    temperatures: [probe("T", [1, 2, 3])],
    mosfetTemperatureC: Float64Array.from([40, 56.2, 50]),
  });
  expect(traceSentence(tracePicture(log, []))).toBe(
    "The picture spans 2 s; the warmest probe reached 3.0 °C; the power stage 56.2 °C.",
  );
});

test("a picture without cells or current says only what it holds", () => {
  const picture = tracePicture(buildLog({ timeS: [0, 1, 2], temperatures: [probe("T", [1, 2, 3])] }), []);
  expect(traceSentence(picture)).toBe("The picture spans 2 s; the warmest probe reached 3.0 °C.");
});

test("a picture survives being stored and read", () => {
  const picture = tracePicture(withSpike(), [1, 2]);
  expect(readTracePicture(JSON.parse(JSON.stringify(picture)))).toEqual(picture);
});

test("what is no picture is not drawn", () => {
  const picture = tracePicture(withSpike(), []);
  expect(readTracePicture(null)).toBeNull();
  expect(readTracePicture({ timeS: [0], rowsPerBucket: 1, series: [] })).toBeNull();
  expect(readTracePicture({ ...picture, timeS: picture.timeS.slice(1) })).toBeNull();
});
