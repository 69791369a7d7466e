import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { markLabels } from "@/app/(service)/bench/[reference]/traces/marked-place";
import { panelScale } from "@/app/(service)/bench/[reference]/traces/panel-scale";
import { sleepBreaks, timeMarks } from "@/app/(service)/bench/[reference]/traces/time-axis";
import { TraceFigure } from "@/app/(service)/bench/[reference]/traces/trace-figure";
import { tracePanels } from "@/app/(service)/bench/[reference]/traces/trace-panels";
import { tracePicture } from "@/lib/readings/trace-picture";
import { buildLog, constant, evenTimes, probe } from "@/tests/support/log-builder";

const ROWS = 900;

function log() {
  const group = constant(ROWS, 3.7);
  group[450] = 2.5;
  return buildLog({
    timeS: evenTimes(ROWS, 1),
    currentA: constant(ROWS, -20),
    cellVoltagesV: [constant(ROWS, 3.8), group],
    temperatures: [probe("Temperature T1", constant(ROWS, 20))],
  });
}

test("groups that a finding names are drawn over the band of all groups", () => {
  const [cells, current, temperatures] = tracePanels(tracePicture(log(), [2]));
  expect(cells?.band).not.toBeNull();
  expect(cells?.traces.map(({ series }) => series.label)).toEqual(["Group 2"]);
  expect(current?.marksZero).toBe(true);
  expect(temperatures?.traces).toHaveLength(1);
});

test("the scale holds the lowest row, so that a spike is never cut off", () => {
  const [cells] = tracePanels(tracePicture(log(), [2]));
  expect(cells).toBeDefined();
  if (cells === undefined) return;
  expect(panelScale(cells).y(2.5)).toBeLessThanOrEqual(cells.heightPx);
  expect(panelScale(cells).y(3.8)).toBeGreaterThanOrEqual(0);
});

test("a file without current and temperatures gives one panel", () => {
  const picture = tracePicture(buildLog({ timeS: [0, 1], cellVoltagesV: [constant(2, 3.7)] }), []);
  expect(tracePanels(picture).map(({ title }) => title)).toEqual(["Cell groups"]);
});

test("the picture is titled, has a table with its values, and holds no broken number", () => {
  const markup = renderToStaticMarkup(<TraceFigure picture={tracePicture(log(), [2])} />);
  expect(markup.match(/role="img"/g)).toHaveLength(3);
  expect(markup).toContain("2.500 V");
  expect(markup).not.toMatch(/NaN|Infinity|undefined/);
});

test("a picture of a single row can be drawn", () => {
  const picture = tracePicture(buildLog({ timeS: [0], cellVoltagesV: [constant(1, 3.7)] }), []);
  expect(renderToStaticMarkup(<TraceFigure picture={picture} />)).not.toMatch(/NaN|Infinity|undefined/);
});

test("a gap among even steps is a pause, a change of pace is none", () => {
  expect(sleepBreaks([0, 10, 20, 5000, 5010, 5020])).toEqual([3]);
  expect(sleepBreaks([0, 600, 1200, 1800, 1801, 1802, 1803])).toEqual([]);
});

test("time marks begin at the first row and end at the last", () => {
  const marks = timeMarks([0, 10, 20, 30, 40, 50, 60]);
  expect(marks.at(0)).toEqual({ bucket: 0, timeS: 0 });
  expect(marks.at(-1)).toEqual({ bucket: 6, timeS: 60 });
});

test("letters of findings that rest on one place stand side by side, others keep their own", () => {
  const marks = [
    { mark: "a", from: 100 },
    { mark: "b", from: 100 },
    { mark: "c", from: 300 },
    { mark: "d", from: 110 },
  ];
  expect(markLabels(marks, 20)).toEqual([
    { text: "a b d", at: 100 },
    { text: "c", at: 300 },
  ]);
});
