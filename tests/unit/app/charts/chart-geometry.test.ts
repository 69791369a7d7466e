import fc from "fast-check";
import { expect, test } from "vitest";
import { placeLabels } from "@/app/_components/charts/place-labels";
import { seriesStyle } from "@/app/_components/charts/series-style";
import { stepRuns } from "@/app/_components/charts/step-runs";
import {
  compactForm,
  NAME_FROM,
  roomyForm,
  squeezedTo,
  withRoomForNames,
} from "@/app/_components/charts/survival-layout";
import type { FailureCurvePoint } from "@/lib/reliability/failure-curve";

test("no two of the first 64 series share colour and dash", () => {
  const styles = Array.from({ length: 64 }, (_, position) => JSON.stringify(seriesStyle(position)));
  expect(new Set(styles).size).toBe(64);
});

test("placed labels never lie over one another", () => {
  const label = fc.record({
    text: fc.constantFrom("A", "B2", "REV-C"),
    x: fc.integer({ min: 0, max: 300 }),
    y: fc.integer({ min: 0, max: 200 }),
  });
  fc.assert(
    fc.property(fc.array(label, { maxLength: 12 }), (labels) => {
      const placed = placeLabels(labels, 12);
      expect(placed).toHaveLength(labels.length);
      for (const [i, a] of placed.entries()) {
        for (const b of placed.slice(i + 1)) {
          const apart = a.x + a.text.length * 7.8 < b.x || b.x + b.text.length * 7.8 < a.x;
          expect(apart || Math.abs(a.y - b.y) >= 13.2 - 1e-9).toBe(true);
        }
      }
    }),
  );
});

function point(ageDays: number, probability: number, grey: boolean): FailureCurvePoint {
  return { ageDays, probability, lower: 0, upper: 1, atRisk: grey ? 5 : 50, grey, doubt: grey ? "few-at-risk" : null };
}

test("a curve is cut where it turns grey, and the pieces join at that age and height", () => {
  const runs = stepRuns([point(0, 0, false), point(100, 0.1, false), point(200, 0.3, true), point(300, 0.3, true)]);
  expect(runs.map((run) => [run.grey, run.corners.map((c) => [c.ageDays, c.probability])])).toEqual([
    [
      false,
      [
        [0, 0],
        [100, 0.1],
        [200, 0.1],
      ],
    ],
    [
      true,
      [
        [200, 0.1],
        [200, 0.3],
        [300, 0.3],
      ],
    ],
  ]);
});

test("a curve of no length draws nothing", () => {
  expect(stepRuns([])).toEqual([]);
  expect(stepRuns([point(0, 0, false)])).toEqual([]);
});

test.each([compactForm, roomyForm])(
  "a name at the row of numbers at risk ends before the first number ($name)",
  (form) => {
    for (const name of ["BR-A", "CBR-09", "United Kingdom", "Quellmoor Zweirad, Obermarn"]) {
      const roomy = withRoomForNames(form, [name, "X"]);
      // DejaVu Sans Bold: 55 px for "CBR-09" at 13 px; four digits at 13 px are 33 px wide. Measured in Chromium.
      const width = squeezedTo(roomy, name) ?? (55 / 13 / 6) * form.fontSize * name.length;
      expect(NAME_FROM + width, name).toBeLessThan(roomy.left - (33 / 13 / 2) * form.fontSize);
      expect(roomy.left, name).toBeLessThan(form.width / 2);
    }
  },
);
