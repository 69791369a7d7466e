import { expect, test } from "vitest";
import { packModelSchema } from "@/lib/packs/pack-model";
import { decodeText, logOf, packRows, tableText } from "@/tests/support/pack-file";

const model = packModelSchema.parse({
  groups: 2,
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
});

/** Columns: time, pack voltage, current, cell 1, cell 2, temperature, state of charge. */
function scaledText(headers: readonly string[], scales: readonly number[], offsets: readonly number[] = []): string {
  const rows = packRows(2, 30).map((row) =>
    row.map((value, at) => Number((value * (scales[at] ?? 1) + (offsets[at] ?? 0)).toFixed(6))),
  );
  return tableText(headers, rows);
}

const plain = logOf(scaledText(["time", "voltage", "current", "cell1", "cell2", "temp1", "soc"], []), { model });

test.each([
  [
    "millivolts and milliamperes by the size of the values",
    ["time", "voltage", "current", "cell1", "cell2", "temp1", "soc"],
    [1, 1000, 1000, 1000, 1000, 1, 1],
    [],
  ],
  [
    "hundredths of a volt for the pack by comparison with the cells",
    ["time", "voltage", "current", "cell1", "cell2", "temp1", "soc"],
    [1, 100, 1, 1, 1, 1, 1],
    [],
  ],
  [
    "units in the header",
    ["Time (ms)", "Voltage (mV)", "Current (mA)", "Cell 1 (mV)", "Cell 2 (V)", "Temp 1 (K)", "SoC (%)"],
    [1000, 1000, 1000, 1000, 1, 1, 1],
    [0, 0, 0, 0, 0, 273.15],
  ],
  [
    "kelvin by the size of the values",
    ["time", "voltage", "current", "cell1", "cell2", "temp1", "soc"],
    [1, 1, 1, 1, 1, 1, 1],
    [0, 0, 0, 0, 0, 273.15],
  ],
  [
    "tenths of a kelvin by the size of the values",
    ["time", "voltage", "current", "cell1", "cell2", "temp1", "soc"],
    [1, 1, 1, 1, 1, 10, 1],
    [0, 0, 0, 0, 0, 2731.5],
  ],
  [
    "raw bytes of degC + 40",
    ["time", "voltage", "current", "cell1", "cell2", "temp1_raw", "soc"],
    [],
    [0, 0, 0, 0, 0, 40],
  ],
  [
    "state of charge from 0 to 1",
    ["time", "voltage", "current", "cell1", "cell2", "temp1", "percentage"],
    [1, 1, 1, 1, 1, 1, 0.01],
    [],
  ],
  ["hours", ["Time / h", "voltage", "current", "cell1", "cell2", "temp1", "soc"], [1 / 3600, 1, 1, 1, 1, 1, 1], []],
])("%s are converted, and a remark says so", (_name, headers, scales, offsets) => {
  const { log, summary } = logOf(scaledText(headers, scales, offsets), { model });
  const pairs: [ArrayLike<number> | null | undefined, ArrayLike<number> | null | undefined][] = [
    [log.packVoltageV, plain.log.packVoltageV],
    [log.currentA, plain.log.currentA],
    [log.cellVoltagesV[0], plain.log.cellVoltagesV[0]],
    [log.cellVoltagesV[1], plain.log.cellVoltagesV[1]],
    [log.temperatures[0]?.valuesC, plain.log.temperatures[0]?.valuesC],
    [log.socPercent, plain.log.socPercent],
  ];
  for (const [ours, expected] of pairs)
    for (let row = 0; row < 30; row++) expect(ours?.[row]).toBeCloseTo(expected?.[row] ?? Number.NaN, 3);
  for (let row = 0; row < 30; row++) expect(log.timeS[row]).toBeCloseTo(row, 1);
  if (!headers.includes("Time / h")) expect(summary.remarks.join(" ")).toMatch(/taken for|converted from/);
});

test("a header that contradicts its values without doubt is overruled, and the contradiction is named", () => {
  const { log, summary } = logOf("time,current,Cell 1 / V,Cell 2 / V\n0,1,3700,3701\n1,1,3700,3701\n");
  expect(log.cellVoltagesV[0]?.[0]).toBe(3.7);
  expect(summary.remarks.join(" ")).toMatch(/'Cell 1 \/ V' and 'Cell 2 \/ V' say V, but .* taken as mV/);
});
test("a header that no unit can mend is followed, and the contradiction is named in plain numbers", () => {
  const { log, summary } = logOf("time,current,Cell 1 / V,Cell 2 / V\n0,1,38500,38510\n1,1,38500,38510\n");
  expect(log.cellVoltagesV[0]?.[0]).toBe(38_500);
  expect(summary.remarks).toContain(
    "Columns 'Cell 1 / V' and 'Cell 2 / V' give 38,500 V, which no working cell has; either the unit in the header or the measurement is wrong.",
  );
});

test("a mapping names columns the vocabulary does not know", () => {
  const text = "moment,fluss,zelle_links,zelle_rechts\n0,1,3700,3.8\n1,2,3701,3.8\n";
  expect(decodeText(text)).toMatchObject({ kind: "unusable", reason: "no-header" });
  const mapping = {
    moment: "Test Time / s",
    fluss: "Current / A",
    zelle_links: "Cell 01 Voltage / mV",
    zelle_rechts: "Cell 02 Voltage / V",
  };
  const { log } = logOf(text, { mapping });
  expect(log.cellVoltagesV.map((cell) => cell[0])).toEqual([3.7, 3.8]);
});
test("a mapping may set a known column aside", () => {
  const { log } = logOf("time,current,c1,c2,temp1\n0,1,3.7,3.8,9\n1,1,3.7,3.8,9\n", { mapping: { temp1: "ignore" } });
  expect(log.temperatures).toEqual([]);
});
test("a mapping with an unknown label is refused as a whole", () => {
  expect(decodeText("time,c1\n0,3.7\n", { mapping: { c1: "Wheel Size / m" } })).toMatchObject({
    kind: "unusable",
    reason: "bad-mapping",
    sentence: "The column mapping names labels that are not known: 'Wheel Size / m'.",
  });
});

test("cells counted from 0 are counted from 1, and a missing cell keeps its place", () => {
  const zeroBased = logOf("time,current,cell_voltage[0],cell_voltage[1]\n0,1,3.7,3.8\n1,1,3.7,3.8\n");
  expect(zeroBased.log.cellVoltagesV.map((cell) => cell[0])).toEqual([3.7, 3.8]);
  expect(zeroBased.summary.remarks).toContain("The file numbers its cells from 0; they are numbered from 1 here.");
  const gappy = logOf("time,current,c1,c3\n0,1,3.7,3.8\n1,1,3.7,3.8\n");
  expect(gappy.log.cellVoltagesV.map((cell) => cell[0])).toEqual([3.7, Number.NaN, 3.8]);
  expect(gappy.summary.groups).toBe(3);
});
test("one column a protection bit makes one word of them", () => {
  const { log } = logOf(
    "time,current,c1,c2,OVER_TEMP_ALARM,CONTACTOR_ERROR\n0,1,3.7,3.8,0,0\n1,1,3.7,3.8,true,1\n2,1,3.7,3.8,,\n",
  );
  expect([...(log.protectionFlags ?? [])]).toEqual([0, 2 ** 1 + 2 ** 20, Number.NaN]);
});
test("switches may be words, and a word of bits may be hexadecimal", () => {
  const { log } = logOf(
    "time,current,c1,c2,Charge Switch / 1,Protection Flags / 1\n0,1,3.7,3.8,on,0x10\n1,1,3.7,3.8,OFF,16\n",
  );
  expect([...(log.chargeSwitch ?? [])]).toEqual([1, 0]);
  expect([...(log.protectionFlags ?? [])]).toEqual([16, 16]);
});
