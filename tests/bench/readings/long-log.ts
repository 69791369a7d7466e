import { once } from "node:events";
import { createWriteStream, existsSync } from "node:fs";
import { rename } from "node:fs/promises";
import os from "node:os";
import path from "node:path";
import type { PackModel } from "@/lib/packs/pack-model";
import { seededRandom } from "@/tests/support/seeded-random";

/** The pack of the long logs: 20 groups of 40 Ah. */
export const longLogModel: PackModel = {
  groups: 20,
  parallel: 1,
  ratedCapacityAh: 40,
  cellMaxV: 4.2,
  cellMinV: 2.8,
  continuousDischargeA: 120,
  peakDischargeA: 240,
  peakSeconds: 10,
  chargeMaxA: 40,
  chargeMinTemperatureC: 0,
  chargeMaxTemperatureC: 45,
  cyclesTo80Percent: 1000,
  groupResistanceMilliohm: 0.9,
  openCircuit: [
    [0, 3.0],
    [10, 3.35],
    [30, 3.6],
    [50, 3.75],
    [70, 3.92],
    [90, 4.08],
    [100, 4.19],
  ],
};

const otherColumns = [
  "Temperature T1 / degC",
  "Temperature T2 / degC",
  "Temperature T3 / degC",
  "MOSFET Temperature / degC",
  "State of Charge / %",
  "Cycle Count / 1",
  "Protection Flags / 1",
];

/**
 * Writes, once, a file of so many rows at 1 Hz: riding, resting, charging, over and over; 30 columns with 20 groups; group 7 with a
 * third more resistance. Values as a monitor writes them: 1 mV, 10 mA, 0.1 degC. Returns its path.
 */
export async function longLogFile(rows: number, groups = 20, folder = os.tmpdir()): Promise<string> {
  const file = path.join(folder, `bench-readings-${rows}x${groups + 3 + otherColumns.length}.csv`);
  if (existsSync(file)) return file;
  const out = createWriteStream(`${file}.part`);
  const cells = Array.from({ length: groups }, (_, at) => `Cell ${String(at + 1).padStart(2, "0")} Voltage / V`);
  out.write(`${["Test Time / s", "Voltage / V", "Current / A", ...cells, ...otherColumns].join(",")}\n`);
  const random = seededRandom(20_251_125);
  const offsetsV = cells.map(() => (random() - 0.5) * 0.004);
  let soc = 95;
  let temperature = 22;
  let currentA = 0;
  let text = "";
  for (let row = 0; row < rows; row++) {
    const phase = row % 14_400;
    if (phase < 5400) currentA = row % 12 === 0 ? -10 - 100 * random() : currentA;
    else if (phase < 7200) currentA = 0;
    else if (phase < 12_600) currentA = soc < 95 ? 36 : 0;
    else currentA = 0;
    soc = Math.min(97, Math.max(8, soc + currentA / 3600 / 0.4));
    if (soc <= 8 && currentA < 0) currentA = 0;
    temperature += (22 - temperature) * 0.0004 + Math.abs(currentA) * 0.00004;
    const openV = 3.3 + 0.0088 * soc;
    let sumV = 0;
    let cellText = "";
    for (let cell = 0; cell < groups; cell++) {
      const ohm = cell === 6 ? 0.0012 : 0.0009;
      const voltageV = openV + (offsetsV[cell] ?? 0) + currentA * ohm + (random() - 0.5) * 0.002;
      sumV += voltageV;
      cellText += `${voltageV.toFixed(3)},`;
    }
    text += `${row},${sumV.toFixed(2)},${currentA.toFixed(2)},${cellText}`;
    const probes = [0, 0.4, 0.8, 6 + Math.abs(currentA) / 20].map((more) => (temperature + more).toFixed(1)).join(",");
    text += `${probes},${soc.toFixed(1)},${Math.floor(row / 14_400)},0\n`;
    if (text.length > 1 << 20) {
      if (!out.write(text)) await once(out, "drain");
      text = "";
    }
  }
  out.end(text);
  await once(out, "finish");
  await rename(`${file}.part`, file);
  return file;
}
