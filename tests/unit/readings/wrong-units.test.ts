import fc from "fast-check";
import { expect, test } from "vitest";
import { decodeText, logOf, packHeaders, packRows, packText, tableText } from "@/tests/support/pack-file";
import { plainModel } from "@/tests/support/plain-model";

/* A factor of 1000 leaves no doubt because a lithium-ion cell works between about 2 and 4.5 V: common practice, no source. */

const groups = 8;
const rows = 40;
const plain = logOf(packText(groups, rows));
const cellFields = Array.from({ length: groups }, (_, cell) => 3 + cell);

/** The healthy pack with fields multiplied by 1000 where `isThousandfold` says so, in whole units as a monitor sends them. */
function thousandfold(isThousandfold: (row: number, field: number) => boolean, headers = packHeaders(groups)): string {
  return tableText(
    headers,
    packRows(groups, rows).map((row, at) =>
      row.map((value, field) => (isThousandfold(at, field) ? Math.round(value * 1000) : value)),
    ),
  );
}

function expectPlainCells(text: string) {
  const result = logOf(text);
  result.log.cellVoltagesV.forEach((cell, at) => {
    cell.forEach((voltageV, row) => {
      expect(Math.abs(voltageV - (plain.log.cellVoltagesV[at]?.[row] ?? Number.NaN))).toBeLessThanOrEqual(0.000501);
    });
  });
  expect(result.log.cellVoltagesV).toHaveLength(groups);
  return result;
}

const about = (remarks: readonly string[], pattern: RegExp) => remarks.filter((remark) => pattern.test(remark));

test("cells in mV under headers of V are read as mV, and one remark says so in plain numbers", () => {
  const { summary } = expectPlainCells(thousandfold((_, field) => cellFields.includes(field)));
  expect(about(summary.remarks, /Cell 0/)).toEqual([
    "Columns 'Cell 01 Voltage / V' to 'Cell 08 Voltage / V' (8) say V, but no cell has 3,699 V: the values were taken as mV. Please confirm the unit.",
  ]);
  expect(summary.remarks.join(" ")).not.toMatch(/\de[+-]?\d/);
});
test("cells in V under headers of mV are read as V where the whole file says so", () => {
  const headers = packHeaders(groups).map((header) => header.replace(/^(Cell .*) V$/, "$1 mV"));
  const { summary } = expectPlainCells(thousandfold(() => false, headers));
  expect(about(summary.remarks, /Cell 0/)).toHaveLength(1);
  expect(summary.remarks.join(" ")).toMatch(/say mV, but .* taken as V\. Please confirm the unit\./);
});
test("one cell of a few millivolts in a file of millivolts stays a dead cell, with and without a unit in the header", () => {
  for (const unit of ["mV", "V", null]) {
    const headers = packHeaders(groups).map((header) =>
      header.startsWith("Cell") ? header.replace(/ \/ V$/, unit === null ? "" : ` / ${unit}`) : header,
    );
    const dead = packRows(groups, rows).map((row) =>
      row.map((value, field) => (field === 5 ? 3 : cellFields.includes(field) ? Math.round(value * 1000) : value)),
    );
    const { log } = logOf(tableText(headers, dead));
    expect(log.cellVoltagesV[2]?.[7]).toBe(0.003);
    expect(log.cellVoltagesV[3]?.[7]).toBeCloseTo(plain.log.cellVoltagesV[3]?.[7] ?? 0, 3);
  }
});
test("a cell that collapses in a file of millivolts collapses in the log, whatever the header says", () => {
  const fallMv = [1900, 1200, 300, 40, 4, 2, 0];
  for (const unit of [" / mV", " / V", ""]) {
    const headers = packHeaders(groups).map((header) => header.replace(/^(Cell .*) \/ V$/, `$1${unit}`));
    const falling = packRows(groups, rows).map((row, at) =>
      row.map((value, field) => {
        if (!cellFields.includes(field)) return value;
        return field === 5 && at >= 20 ? (fallMv[at - 20] ?? 0) : Math.round(value * 1000);
      }),
    );
    const { log } = logOf(tableText(headers, falling));
    expect([...(log.cellVoltagesV[2] ?? [])].slice(20, 27)).toEqual(fallMv.map((millivolts) => millivolts / 1000));
  }
});
test("a file of one cell in mV under V is one cell in V", () => {
  const { log } = logOf("Test Time / s,Voltage / V,Current / A\n0,3700,1\n1,3701,1\n2,3702,1\n");
  expect(log.cellVoltagesV.map((cell) => [...cell])).toEqual([[3.7, 3.701, 3.702]]);
});
test("where every row mixes mV and V the remark says so", () => {
  const { summary } = expectPlainCells(
    thousandfold((row, field) => cellFields.includes(field) && (row + field) % 2 === 0),
  );
  expect(about(summary.remarks, /every row gives some cell voltages in mV, the others in V/)).toHaveLength(1);
});
test.each([4095, 2047])("a cell of all ones, %i, under V is no voltage in mV", (noSensor) => {
  const text = tableText(
    packHeaders(groups),
    packRows(groups, rows).map((row) => row.map((value, field) => (field === 5 ? noSensor : value))),
  );
  expect(logOf(text).log.cellVoltagesV[2]?.[0]).toBe(noSensor);
});

test("a file that goes over to mV halfway is one log, and a remark says from which line", () => {
  const { summary } = expectPlainCells(thousandfold((row, field) => row >= 20 && cellFields.includes(field)));
  expect(about(summary.remarks, /mixes units/)).toEqual([
    "The file mixes units: 20 of 40 rows, the first in line 22, give cell voltages in mV, the others in V; they were converted to V. Please confirm.",
  ]);
});
test("a file that goes over from mV to V halfway is one log, whatever the header says", () => {
  for (const unit of ["mV", "V"]) {
    const headers = packHeaders(groups).map((header) => header.replace(/^(Cell .*) V$/, `$1 ${unit}`));
    const { summary } = expectPlainCells(thousandfold((row, field) => row < 20 && cellFields.includes(field), headers));
    expect(about(summary.remarks, /mixes units: 20 of 40 rows, the first in line 2,/)).toHaveLength(1);
  }
});
test("some rows of one column in mV are converted", () => {
  const { summary } = expectPlainCells(thousandfold((row, field) => field === 5 && row % 7 === 3));
  expect(about(summary.remarks, /mixes units: 6 of 40 rows, the first in line 5,/)).toHaveLength(1);
});
test("cell columns in mV beside columns in V without a unit in the header are each read by their size, and a remark asks", () => {
  const headers = packHeaders(groups).map((header) => header.replace(/^(Cell .*) \/ V$/, "$1"));
  const { summary } = expectPlainCells(
    thousandfold((_, field) => cellFields.includes(field) && field % 2 === 0, headers),
  );
  expect(about(summary.remarks, /Some cell columns are in mV and others in V/)).toHaveLength(1);
});
test("whichever rows and columns a pack gives in mV, its log is the same", () => {
  fc.assert(
    fc.property(fc.func(fc.boolean()), fc.constantFrom(" / V", ""), (isThousandfold, unit) => {
      const headers = packHeaders(groups).map((header) => header.replace(/^(Cell .*) \/ V$/, `$1${unit}`));
      expectPlainCells(thousandfold((row, field) => cellFields.includes(field) && isThousandfold(row, field), headers));
    }),
    { numRuns: 40 },
  );
});

test("a pack voltage in mV under V is read as mV by the sum of the cells", () => {
  const { log, summary } = logOf(thousandfold((_, field) => field === 1));
  expect(log.packVoltageV[0]).toBeCloseTo(plain.log.packVoltageV[0] ?? 0, 3);
  expect(about(summary.remarks, /'Voltage \/ V' says V, but .*taken as mV\. Please confirm/)).toHaveLength(1);
});
test("a pack voltage that goes over to mV halfway is one voltage", () => {
  const { log, summary } = logOf(thousandfold((row, field) => row >= 20 && field === 1));
  expect(log.packVoltageV[0]).toBeCloseTo(plain.log.packVoltageV[0] ?? 0, 3);
  expect(log.packVoltageV[39]).toBeCloseTo(plain.log.packVoltageV[39] ?? 0, 3);
  expect(
    about(summary.remarks, /mixes units: 20 of 40 rows, the first in line 22, give the pack voltage/),
  ).toHaveLength(1);
});
test("a pack voltage of all ones stays as it was logged", () => {
  const text = tableText(
    packHeaders(16),
    packRows(16, rows).map((row, at) => row.map((value, field) => (field === 1 && at > 30 ? 65_535 : value))),
  );
  expect(logOf(text).log.packVoltageV[35]).toBe(65_535);
});
test("a current in mA under A is read as mA where no pack could carry it", () => {
  for (const options of [{}, { model: { ...plainModel, groups } }]) {
    const { log, summary } = logOf(
      thousandfold((_, field) => field === 2),
      options,
    );
    expect(log.currentA[0]).toBe(plain.log.currentA[0]);
    expect(about(summary.remarks, /'Current \/ A' says A, but .*taken as mA\. Please confirm/)).toHaveLength(1);
  }
});
test("a current that goes over to mA together with the cells is one current", () => {
  const { log, summary } = logOf(
    thousandfold((row, field) => row >= 20 && (field === 2 || cellFields.includes(field))),
  );
  expect([...log.currentA]).toEqual([...plain.log.currentA]);
  expect(about(summary.remarks, /mixes units: in 20 rows, the first in line 22, the current is in mA/)).toHaveLength(1);
});
test("a current that goes over to mA alone is not scaled as a whole, and its first line is named", () => {
  for (const unit of [" / A", ""]) {
    const headers = packHeaders(groups).with(2, `Current${unit}`);
    const rowsOfRest = packRows(groups, rows).map((row, at) =>
      row.with(2, at % 3 === 0 ? 0.25 : at < 20 ? -20 : -20_000),
    );
    const { log, summary } = logOf(tableText(headers, rowsOfRest), { model: { ...plainModel, groups } });
    expect(Math.abs(log.currentA[1] ?? 0)).toBe(20);
    expect(about(summary.remarks, /^The current in line 22 is 20,000 A, which no pack/)).toHaveLength(1);
  }
});
test("a high current and single impossible ones are not taken for mA", () => {
  const high = packRows(groups, rows).map((row, at) =>
    row.map((v, field) => (field === 2 ? (at === 9 ? 32_767 : v * 20) : v)),
  );
  expect(logOf(tableText(packHeaders(groups), high)).log.currentA[0]).toBe(-400);
});

test("a file without a cell voltage in any row is unusable, and the sentence says why", () => {
  const text = tableText(
    packHeaders(groups),
    packRows(groups, rows).map((row) => row.map((value, field) => (cellFields.includes(field) ? "" : value))),
  );
  expect(decodeText(text)).toEqual({
    kind: "unusable",
    reason: "no-cells",
    sentence: "The file has 8 cell columns but no cell voltage in any row; export it again with the cell voltages.",
  });
});
test("rows without any voltage are not covered time", () => {
  const text = tableText(
    packHeaders(groups),
    packRows(groups, 1001).map((row, at) =>
      row.map((value, field) => (field > 0 && field < 11 && at > 500 ? "" : value)),
    ),
  );
  expect(logOf(text).summary.coverage).toBeCloseTo(0.5, 12);
});
test("voltages logged in every other row cover the time between them", () => {
  const text = tableText(
    packHeaders(groups),
    packRows(groups, 101).map((row, at) =>
      row.map((value, field) => (field > 0 && field < 11 && at % 2 === 1 ? "" : value)),
    ),
  );
  expect(logOf(text).summary.coverage).toBe(1);
});

test.each([
  ["Amps", "Volt"],
  ["Ampere", "Volts"],
  ["I [A]", "V_pack"],
  ["Current_A", "V_pack [V]"],
  ["Current (Amps)", "Pack Volts"],
])("%s and %s are current and pack voltage", (current, voltage) => {
  const headers = packHeaders(groups).with(1, voltage).with(2, current);
  const { log } = logOf(tableText(headers, packRows(groups, rows)));
  expect([...log.currentA]).toEqual([...plain.log.currentA]);
  expect([...log.packVoltageV]).toEqual([...plain.log.packVoltageV]);
});
test.each(["Amp Hours", "Ampere hours", "Volt Ampere", "Amps max"])("%s is neither current nor voltage", (header) => {
  const headers = packHeaders(groups).with(2, header);
  expect(logOf(tableText(headers, packRows(groups, rows))).log.currentA[0]).toBeNaN();
});

test("a state of charge outside -5 to 105 % is not measured, and a remark counts it", () => {
  const text = tableText(
    packHeaders(groups),
    packRows(groups, rows).map((row, at) =>
      row.with(groups + 4, [255, -6, 105, -5][at % 8] ?? row[groups + 4] ?? Number.NaN),
    ),
  );
  const { log, summary } = logOf(text);
  expect([...(log.socPercent ?? [])].slice(0, 4)).toEqual([Number.NaN, Number.NaN, 105, -5]);
  expect(about(summary.remarks, /state of charge/i)).toEqual([
    "10 values of the state of charge lie outside 0 to 100 % (the first, 255 %, in line 2); they count as not measured.",
  ]);
});
