import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { CannotJudge } from "@/app/(service)/bench/[reference]/readings/cannot-judge";
import { DeviationFigure } from "@/app/(service)/bench/[reference]/readings/deviation-figure";
import { classOf } from "@/app/(service)/bench/[reference]/readings/deviation-scale";
import { DriftFigure } from "@/app/(service)/bench/[reference]/readings/drift-figure";
import { ResistanceFigure } from "@/app/(service)/bench/[reference]/readings/resistance-figure";
import { moved, moveOfKey, spanOfPlace } from "@/app/(service)/bench/[reference]/traces/window-moves";
import { diagnoseAndDraw } from "@/lib/diagnosis/diagnose";
import { readReadingDrawings } from "@/lib/diagnosis/reading-drawings.schema";
import { summaryOf } from "@/tests/support/log-builder";
import { plainModel } from "@/tests/support/plain-model";
import { simulatePack } from "@/tests/support/plain-pack";
import { parkedUse } from "@/tests/support/use-of-a-pack";

const broken = /NaN|Infinity|undefined|null/;

test("what was drawn survives being stored, and every picture has its table and its sentence", () => {
  const log = simulatePack({ seed: 8, model: plainModel, acts: parkedUse, intervalS: 20, leakA: { 6: 0.02 } });
  const { drawings, diagnosis } = diagnoseAndDraw({ log, summary: summaryOf(log), model: plainModel });
  const { measurements } = diagnosis;
  const stored = readReadingDrawings(JSON.parse(JSON.stringify(drawings)));
  expect(stored).toEqual(drawings);
  if (stored === null || stored.deviations === null) throw new Error("nothing was drawn");
  const map = renderToStaticMarkup(<DeviationFigure map={stored.deviations} />);
  expect(map).toContain("<table");
  expect(map).toContain("median group");
  expect(map).not.toMatch(broken);
  const drift = renderToStaticMarkup(<DriftFigure drift={stored.drift} />);
  expect(drift).toContain("falls fastest");
  expect(drift).toContain("<table");
  expect(drift).not.toMatch(broken);
  const resistance = renderToStaticMarkup(
    <ResistanceFigure
      build={null}
      whenRead={null}
      measurements={measurements}
      refused={null}
      highRatio={1.15}
      namedHigh={new Set()}
    />,
  );
  expect(resistance).toContain("reads highest");
  expect(resistance).not.toMatch(broken);
});

test("a picture that cannot be drawn says why in a whole sentence", () => {
  expect(renderToStaticMarkup(<CannotJudge what="Resistance" because="only 3 load steps were logged" />)).toContain(
    "Only 3 load steps were logged.",
  );
  expect(
    renderToStaticMarkup(<DriftFigure drift={{ outcome: "cannot", because: "no rest of ten minutes." }} />),
  ).toContain("Self-discharge cannot be judged from these readings");
  expect(
    renderToStaticMarkup(
      <ResistanceFigure
        build={null}
        whenRead={null}
        measurements={[]}
        refused="no current"
        highRatio={1.15}
        namedHigh={new Set()}
      />,
    ),
  ).toContain("No current.");
});

test("drawings of an earlier release are none", () => {
  expect(readReadingDrawings({ timeS: [0], rowsPerBucket: 1, series: [] })).toBeNull();
});

test("sizes fall into classes by their limits, whatever their sign", () => {
  expect([0, 9, 10, -30, 99, -100, 5000].map(classOf)).toEqual([0, 0, 1, 2, 2, 3, 4]);
});

test("steps stay within the log and come back", () => {
  const whole = { fromRow: 0, toRow: 1000 };
  expect(moved(whole, "closer", 1000)).toEqual({ fromRow: 250, toRow: 750 });
  expect(moved({ fromRow: 250, toRow: 750 }, "wider", 1000)).toEqual(whole);
  expect(moved({ fromRow: 0, toRow: 100 }, "earlier", 1000)).toEqual({ fromRow: 0, toRow: 100 });
  expect(moved({ fromRow: 900, toRow: 1000 }, "later", 1000)).toEqual({ fromRow: 900, toRow: 1000 });
  expect(moved({ fromRow: 10, toRow: 18 }, "closer", 1000)).toEqual({ fromRow: 10, toRow: 18 });
  expect(moved({ fromRow: 400, toRow: 500 }, "whole", 1000)).toEqual(whole);
  expect(spanOfPlace({ fromRow: 500, toRow: 500 }, 1000)).toEqual({ fromRow: 492, toRow: 508 });
});

test("only the keys that are named move the window", () => {
  expect(["ArrowLeft", "ArrowRight", "+", "-", "0", "Tab", "Enter", "a"].map(moveOfKey)).toEqual([
    "earlier",
    "later",
    "closer",
    "wider",
    "whole",
    null,
    null,
    null,
  ]);
});
