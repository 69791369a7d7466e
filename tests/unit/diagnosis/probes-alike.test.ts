import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import { createReadingDecoder } from "@/lib/readings/read-readings";
import { plainModel } from "@/tests/support/plain-model";

test("probes that fail alike are one finding that names them all", () => {
  const probes = Array.from({ length: 6 }, (_, k) => `Temperature T${k + 1} / degC`);
  const cells = Array.from({ length: 8 }, (_, k) => `Cell 0${k + 1} Voltage / V`);
  const rows = Array.from({ length: 600 }, (_, row) =>
    [
      row * 5,
      "30.400",
      "0.0",
      ...cells.map(() => (3.8 + (row % 3) * 0.001).toFixed(3)),
      "-40",
      "-40",
      "-40",
      "-40",
      "-40",
      (21 + (row % 2) * 0.1).toFixed(1),
    ].join(","),
  );
  const decoder = createReadingDecoder();
  decoder.push(
    new TextEncoder().encode(
      [["Test Time / s", "Voltage / V", "Current / A", ...cells, ...probes].join(","), ...rows].join("\n"),
    ),
  );
  const read = decoder.end();
  if (read.kind === "unusable") throw new Error(read.sentence);
  const { findings } = diagnose({ log: read.log, summary: read.summary, model: { ...plainModel, groups: 8 } });
  const sensors = findings.filter(({ fault }) => fault === "temperature-sensor");
  expect(sensors).toHaveLength(1);
  expect(sensors[0]?.evidenceFor).toHaveLength(4);
  expect(sensors[0]?.evidenceFor.at(-1)).toMatch(/T4, .*T5/);
});
