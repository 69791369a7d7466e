import { expect, test } from "vitest";
import { columnMeaning } from "@/lib/readings/column-meaning";
import { readCheckTable } from "../../support/check-table";

/**
 * Terms of the Battery Data Format ontology 1.3.0 (LF Energy Battery Data Alliance, Apache-2.0) that are read: preferred label, notation,
 * alternative labels, as they stand in the ontology's own table of terms.
 */
const used: readonly (readonly [quantity: string, number: number | null, labels: readonly string[]])[] = [
  ["current", null, ["Current / A", "current_ampere", "current_a"]],
  ["test-time", null, ["Test Time / s", "test_time_second", "test_time_s"]],
  ["pack-voltage", null, ["Voltage / V", "voltage_volt", "voltage_v"]],
  [
    "ambient-temperature",
    null,
    ["Ambient Temperature / degC", "ambient_temperature_celsius", "ambient_temperature_degc"],
  ],
  ["cycle-count", null, ["Cycle Count / 1", "cycle_count", "cycle_count_1", "cycle_dimensionless"]],
  ["unix-time", null, ["Unix Time / s", "unix_time_second", "unix_time_s"]],
  ["net-capacity", null, ["Net Capacity / Ah", "net_capacity_ah", "net_capacity_ampere_hour"]],
  ["temperature", null, ["Surface Temperature / degC", "surface_temperature_celsius", "surface_temperature_degc"]],
  [
    "temperature",
    1,
    [
      "Temperature T1 / degC",
      "Surface Temperature T1 / degC",
      "surface_temperature_t1_celsius",
      "temperature_t1_celsius",
      "temperature_t1_degc",
    ],
  ],
  [
    "temperature",
    5,
    [
      "Temperature T5 / degC",
      "Surface Temperature T5 / degC",
      "surface_temperature_t5_celsius",
      "temperature_t5_celsius",
      "temperature_t5_degc",
    ],
  ],
  // Deprecated by the ontology, still met in files.
  ["test-time", null, ["Test Time / ms", "test_time_millisecond", "test_time_ms"]],
  ["unix-time", null, ["Unix Time / ms", "unix_time_millisecond", "unix_time_ms"]],
];

test.each(used)(
  "every label of %s %s is known, in any case and with other spellings of its unit",
  (quantity, number, labels) => {
    for (const label of labels) {
      for (const spelling of [
        label,
        label.toUpperCase(),
        label.toLowerCase(),
        label.replace("degC", "°C"),
        label.replace("degC", "Celsius"),
      ]) {
        expect(columnMeaning(spelling), spelling).toMatchObject({ quantity, number });
      }
    }
  },
);

const terms = readCheckTable("readings/bdf/bdf_terms_1.3.0.csv");

test.skipIf(terms === null)(
  "the whole table of terms: the used ones are known, no other is taken for a reading",
  () => {
    const usedLabels = new Map(
      used.flatMap(([quantity, , labels]) => labels.map((label) => [label.toLowerCase(), quantity])),
    );
    let known = 0;
    for (const term of terms ?? []) {
      for (const label of [term.preferred_label ?? "", term.notation ?? "", ...(term.alt_labels ?? "").split("; ")]) {
        if (label === "") continue;
        const wanted =
          usedLabels.get(label.toLowerCase()) ??
          (/^(surface )?temperature[ _]t[2-4]|^surface_temperature_t[2-4]/i.test(label) ? "temperature" : null);
        expect(columnMeaning(label)?.quantity ?? null, label).toBe(wanted);
        if (wanted !== null) known++;
      }
    }
    expect(known).toBeGreaterThan(40);
  },
);
