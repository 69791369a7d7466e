import { expect, test } from "vitest";
import { reportReadings } from "@/lib/diagnosis/reading-report";
import { columnQuestions } from "@/lib/readings/column-questions";
import { hasDoubts } from "@/lib/readings/reading-doubts";
import { decodeText, logOf, packHeaders, packRows, packText, tableText } from "@/tests/support/pack-file";
import { plainModel } from "@/tests/support/plain-model";

const groups = 4;
const headers = packHeaders(groups);
const heat = headers.indexOf("Temperature T1 / degC");
const rows = packRows(groups, 60);
const withHeat = (heatOf: (row: number) => number) =>
  rows.map((row, at) => row.map((value, field) => (field === heat ? heatOf(at) : value)));

function asked(text: string) {
  const { doubts } = logOf(text);
  expect(hasDoubts(doubts)).toBe(true);
  return columnQuestions(text.split("\n"), undefined, doubts)?.columns.filter(({ why }) => why !== null) ?? [];
}

const missingOf = (text: string) =>
  reportReadings(logOf(text), { ...plainModel, groups }).diagnosis.suggestion.missing.join(" ");

test("kelvin under a heading of degC are read as kelvin, and the unit is asked about", () => {
  for (const [factor, unit] of [
    [1, "K"],
    [10, "0.1 K"],
  ] as const) {
    const text = tableText(
      headers,
      withHeat((row) => Math.round((295.2 + row * 0.1) * factor * 10) / 10),
    );
    const { log, summary } = logOf(text);
    expect(log.temperatures[0]?.valuesC[0]).toBeCloseTo(22.05, 1);
    expect(summary.remarks.join(" ")).toContain(
      `'Temperature T1 / degC' says degC, but no pack is as hot as its values: they were taken as ${unit}. Please confirm the unit.`,
    );
    expect(asked(text)).toMatchObject([{ key: "Temperature T1 / degC", proposal: { unit } }]);
  }
});

test("a person who says degC is believed, and so is a file that was hot for a while", () => {
  const kelvin = tableText(
    headers,
    withHeat(() => 295.2),
  );
  const degC = { quantity: "temperature", number: 1, unit: "degC", sign: null } as const;
  expect(logOf(kelvin, { mapping: { "Temperature T1 / degC": degC } }).log.temperatures[0]?.valuesC[0]).toBe(295.2);
  const hot = logOf(
    tableText(
      headers,
      withHeat((row) => (row < 40 ? 60 + 3 * row : 240)),
    ),
  );
  expect(hot.log.temperatures[0]?.valuesC[39]).toBe(177);
});

test.each([
  ["degC", headers],
  ["no unit", headers.map((header) => header.replace("Temperature T1 / degC", "Temp T1"))],
])("a probe beside a fire is no probe in kelvin: it began cool, under a heading of %s", (_, named) => {
  const burning = withHeat((row) => (row < 5 ? 24 + row : 240 + 2 * row));
  const { log } = logOf(tableText(named, burning));
  expect(log.temperatures[0]?.valuesC[0]).toBe(24);
  expect(log.temperatures[0]?.valuesC[59]).toBe(358);
});

test("a probe that was hot from the first row on is degC where the probe beside it is cool", () => {
  const second = headers.map((header) => header.replace("Temperature T1", "Temperature T2"));
  const both = [...headers, second[heat] ?? ""];
  const text = tableText(
    both,
    withHeat((row) => 280 + 2 * row).map((row, at) => [...row, 24 + 0.1 * at]),
  );
  expect(logOf(text).log.temperatures.map(({ valuesC }) => valuesC[10])).toEqual([300, 25]);
});

test.each([
  ["degC", "Temperature T1 / degC", "Temperature T2 / degC", "Temperature T3 / degC"],
  ["no unit", "Temp T1", "Temp T2", "Temp T3"],
])("several probes in kelvin are all read as kelvin, under a heading of %s", (_, first, second, third) => {
  const named = [...headers.map((header, field) => (field === heat ? first : header)), second, third];
  const text = tableText(
    named,
    withHeat((row) => 295.2 + row * 0.1).map((row, at) => [...row, 296.2 + 0.1 * at, 294.2 + 0.1 * at]),
  );
  const firstRowC = logOf(text).log.temperatures.map(({ valuesC }) => Math.round((valuesC[0] ?? 0) * 100) / 100);
  expect(firstRowC).toEqual([22.05, 23.05, 21.05]);
});

test("kelvin stay kelvin beside a sensor that is lost and reads nothing but zero, or a word of ones, for most of the file", () => {
  for (const lost of [0, 65_535]) {
    const both = [...headers, "Temperature T2 / degC"];
    const text = tableText(
      both,
      withHeat((row) => 295.2 + row * 0.1).map((row, at) => [...row, at < 10 ? 295.2 + 0.1 * at : lost]),
    );
    expect(logOf(text).log.temperatures[0]?.valuesC[0], String(lost)).toBeCloseTo(22.05, 1);
  }
});

test("temperatures without a unit that never come near a cool pack may be degC + 40: said, and read as the hotter", () => {
  const bare = headers.map((header) => header.replace("Temperature T1 / degC", "Temp T1"));
  const { log, summary } = logOf(
    tableText(
      bare,
      withHeat((row) => 62 + (row >> 4)),
    ),
  );
  expect(log.temperatures[0]?.valuesC[0]).toBe(62);
  expect(summary.remarks.join(" ")).toMatch(
    /'Temp T1': no unit is stated, .* degC \+ 40, .* Please confirm the unit\./,
  );
  const cooled = withHeat((row) => (row < 50 ? 62 : 40));
  for (const text of [
    tableText(bare, cooled),
    tableText(
      headers,
      withHeat(() => 62),
    ),
  ])
    expect(logOf(text).summary.remarks.join(" ")).not.toContain("+ 40");
});

test("a column that stands twice with other values is told and asked about, and no pack is called sound by it", () => {
  const twice = (apart: number) =>
    tableText(
      [...headers, "Cell 03 Voltage / V"],
      rows.map((row) => [...row, Number(((row[5] ?? 0) - apart).toFixed(4))]),
    );
  const { summary } = logOf(twice(0.3));
  expect(summary.contradictions?.[0]).toMatch(
    /^Two columns mean the same, 'Cell 03 Voltage \/ V' and again 'Cell 03 Voltage \/ V', and differ: 3\.684 and 3\.384 in one row\./,
  );
  expect(asked(twice(0.3))).toMatchObject([{ why: summary.contradictions?.[0] }]);
  expect(missingOf(twice(0.3))).toContain("Two columns mean the same");
  expect(logOf(twice(0)).summary.contradictions).toBeUndefined();
  const elsewhere = tableText(
    [...headers, "Pack Voltage / V"],
    rows.map((row) => [...row, (row[1] ?? 0) - 1]),
  );
  expect(logOf(elsewhere).summary.contradictions).toBeUndefined();
  const milliampere = tableText(
    [...headers, "Current / mA"],
    rows.map((row) => [...row, 1000 * (row[2] ?? 0)]),
  );
  expect(logOf(milliampere).summary.contradictions).toBeUndefined();
});

test("where the header is repeated and the clock goes back another log may begin: told with its line, and no pack called sound", () => {
  const other = rows.map((row) =>
    row.map((value, field) => (field >= 3 && field < 7 ? value - 0.02 * (field - 2) : value)),
  );
  const text = tableText(headers, rows) + tableText(headers, other);
  const { summary, log } = logOf(text);
  expect(log.rows).toBe(120);
  expect(summary.contradictions).toEqual([
    "The header is repeated in line 62, and the clock goes back there: what follows may be the log of another pack. Save each log to a file of its own.",
  ]);
  expect(summary.remarks.filter((remark) => remark.includes("holds words"))).toEqual([]);
  expect(missingOf(text)).toContain("repeated in line 62");
  const [head, ...lines] = packText(groups, 60).trimEnd().split("\n");
  const goesOn = [head, ...lines.slice(0, 30), head, ...lines.slice(30)].join("\n");
  expect(logOf(goesOn).summary.contradictions).toBeUndefined();
});

test("a file of one known column lacks the others, not a name", () => {
  for (const heading of ["Cell 01 Voltage / V", "Voltage / V"])
    expect(decodeText(`${heading}\n4.140\n4.141\n`)).toMatchObject({
      kind: "unusable",
      sentence: `The one column of this file, '${heading}' in line 1, is known; time, current and the other voltages are missing. Export them in one table.`,
    });
  expect(decodeText("Remarks\nnothing\n")).toMatchObject({ sentence: expect.stringContaining("No line of this file") });
});
