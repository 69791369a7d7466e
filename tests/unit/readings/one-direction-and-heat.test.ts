import { expect, test } from "vitest";
import { reportReadings } from "@/lib/diagnosis/reading-report";
import { columnMeaning } from "@/lib/readings/column-meaning";
import { columnQuestions } from "@/lib/readings/column-questions";
import { hasDoubts } from "@/lib/readings/reading-doubts";
import { logOf, packRows, tableText } from "@/tests/support/pack-file";
import { plainModel } from "@/tests/support/plain-model";

const upTo = (count: number) => Array.from({ length: count }, (_, at) => at + 1);
const cells = ["Cell 1 (V)", "Cell 2 (V)", "Cell 3 (V)"];
/** Rows of a pack of three groups: time, whatever stands before its cells, and the cells. */
const rowsWith = (before: (row: number, currentA: number) => readonly (number | string)[], rows = 60) =>
  packRows(3, rows).map(([time = 0, , currentA = 0, ...rest]) => [
    time,
    ...before(time, currentA),
    ...rest.slice(0, 3),
  ]);
const warmed = (row: number) => Number((28 + Math.max(0, row - 30) * 3).toFixed(1));

test.each([
  // Names as people give them in the languages of the vocabulary (common practice, no source).
  ["Max Temp (C)", "temperature"],
  ["Min Temp (C)", "temperature"],
  ["Temp Min", "temperature"],
  ["Highest Cell Temperature / degC", "temperature"],
  ["Tmax (°C)", "temperature"],
  ["Temperatur Zelle 1 (°C)", "temperature"],
  ["Zelle 2 Temperatur", "temperature"],
  ["Zelltemperatur 3 [°C]", "temperature"],
  ["Temperatura celda 2 (°C)", "temperature"],
  ["Température cellule 4 (°C)", "temperature"],
  ["MOS-Temperatur (°C)", "mosfet-temperature"],
  ["Temperatura ambiente (°C)", "ambient-temperature"],
  ["Charge Current (A)", "charge-current"],
  ["Entladestrom [A]", "discharge-current"],
])("%s means %s", (heading, quantity) => expect(columnMeaning(heading)?.quantity).toBe(quantity));

test.each([
  "Max Temp Cell",
  "Temp Difference (C)",
  "Max Temp Limit (C)",
  "Motor Temp (C)",
  "Temp Alarm",
  "Max Charge Current (A)",
  "Charge Current Limit (A)",
])("%s is not taken for a reading of the pack", (heading) => expect(columnMeaning(heading)).toBeNull());

test("a highest and a lowest temperature are read without a question", () => {
  const headers = ["Test Time / s", "Max Temp (C)", "Min Temp (C)", ...cells];
  const read = (last: number) =>
    logOf(
      tableText(
        headers,
        rowsWith((row) => [warmed(row), last]),
      ),
    );
  const { log, doubts } = read(28);
  expect(log.temperatures.map(({ name, valuesC }) => [name, valuesC.at(-1)])).toEqual([
    ["Max Temp", 115],
    ["Min Temp", 28],
  ]);
  expect(hasDoubts(doubts)).toBe(false);
  // One that never moves from where a limit may be set is asked about, and read until somebody leaves it out.
  expect(Object.keys(read(-20).doubts.openHeadings)).toEqual(["2"]);
  expect(read(-20).log.temperatures).toHaveLength(2);
});

test("a heading that speaks of a temperature and is not understood is asked about, and proposed where its unit says so", () => {
  const headers = ["Test Time / s", "Kerntemperatur hinten (°C)", "Übertemperatur Alarm", ...cells];
  const text = tableText(
    headers,
    rowsWith((row) => [warmed(row), 0]),
  );
  const { doubts, summary } = logOf(text);
  expect(hasDoubts(doubts)).toBe(true);
  expect(summary.remarks.join(" ")).toContain("A temperature may stand under 'Kerntemperatur hinten");
  const asked = columnQuestions(text.split("\n"), undefined, doubts)?.columns[1];
  expect(asked?.proposal.quantity).toBe("temperature");
  // A bare C is a degree where the heading speaks of one.
  const bare = text.replace("hinten (°C)", "hinten (C)");
  expect(columnQuestions(bare.split("\n"), undefined, logOf(bare).doubts)?.columns[1]?.proposal).toMatchObject({
    quantity: "temperature",
    unit: "degC",
  });
  const left = logOf(text, { mapping: { "Kerntemperatur hinten (°C)": "ignore" } });
  expect(hasDoubts(left.doubts)).toBe(false);
});

test("an unknown heading in amperes or volts is asked about where the file has no current or pack voltage, and left alone elsewhere", () => {
  const rows = rowsWith((_, currentA) => [currentA, 11.1]);
  const lacking = tableText(["Test Time / s", "Strang links (A)", "Strang oben (V)", ...cells], rows);
  const { doubts, summary } = logOf(lacking);
  expect(Object.keys(doubts.openHeadings)).toEqual(["1", "2"]);
  expect(summary.remarks.join(" ")).toContain("A current may stand under 'Strang links (A)', which is not understood");
  expect(columnQuestions(lacking.split("\n"), undefined, doubts)?.columns[1]?.proposal.quantity).toBe("current");
  const both = ["Test Time / s", "Strang links (A)", "Strang oben (V)", "Current / A", "Voltage / V", ...cells];
  const whole = tableText(
    both,
    rowsWith((_, currentA) => [1, 2, currentA, 11.1]),
  );
  expect(hasDoubts(logOf(whole).doubts)).toBe(false);
  const limits = ["Test Time / s", "Current Limit vorn (A)", "Max Spannung (V)", ...cells];
  expect(hasDoubts(logOf(tableText(limits, rows)).doubts)).toBe(false);
});

test("a temperature that repeats the highest of the numbered ones is no further one, until it reads what none of them does", () => {
  const headers = ["Test Time / s", "T1 (C)", "T2 (C)", "Max Temp (C)", "Battery Temperature (C)", ...cells];
  const named = (last: (row: number) => number) =>
    logOf(
      tableText(
        headers,
        rowsWith((row) => [warmed(row), 28, Math.round(warmed(row)), last(row)]),
      ),
    ).log.temperatures.map(({ name }) => name);
  expect(named(warmed)).toEqual(["T1", "T2"]);
  expect(named((row) => warmed(row) + (row === 59 ? 40 : 0))).toEqual(["T1", "T2", "Battery Temperature"]);
});

test("a temperature that a person left out judges nothing, and its emergency is seen; one that never moves is no reading", () => {
  const headers = ["Test Time / s", "Current / A", "T1 (C)", "T2 (C)", ...upTo(16).map((at) => `Cell ${at} (V)`)];
  const judged = (warm: (row: number) => number) => {
    const rows = upTo(900).map((row) => [
      row,
      0,
      warm(row).toFixed(1),
      warm(row).toFixed(1),
      ...upTo(16).map(() => 3.8),
    ]);
    const ignored = { quantity: "ignore", number: null, unit: null, sign: null, remembered: true } as const;
    const decoded = logOf(tableText(headers, rows), { mapping: { "T1 (C)": ignored, "T2 (C)": ignored } });
    expect([decoded.log.temperatures, hasDoubts(decoded.doubts)]).toEqual([[], false]);
    return reportReadings(decoded, plainModel);
  };
  const { diagnosis, summary } = judged((row) => 28 + Math.max(0, row - 700) / 2);
  expect(diagnosis.findings[0]).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
  expect(summary.remarks.join(" ")).toContain("searched for an emergency all the same: 'T1', 'T2'");
  const quiet = judged((row) => 24 + (row % 3) / 10).diagnosis;
  expect(quiet.findings.map(({ fault }) => fault)).not.toContain("acute-event");
  expect(quiet.suggestion.reasons.join(" ")).toContain("The temperatures of the file were left out");
  expect(judged(() => 70).diagnosis.findings.map(({ fault }) => fault)).not.toContain("acute-event");
});

test("a column of charging and one of discharging currents are one current, positive when charging", () => {
  const into = (currentA: number) => Math.max(currentA, 0);
  const outOf = (currentA: number) => Math.max(-currentA, 0);
  const plain = logOf(
    tableText(
      ["Test Time / s", "Current / A", ...cells],
      rowsWith((_, currentA) => [currentA]),
    ),
  );
  const apart = (headers: readonly string[], rows: ReturnType<typeof rowsWith>) =>
    logOf(tableText(["Test Time / s", ...headers, ...cells], rows));
  const pair = apart(
    ["Charge Current (A)", "Discharge Current (mA)"],
    rowsWith((_, currentA) => [into(currentA), 1000 * outOf(currentA)]),
  );
  expect([...pair.log.currentA]).toEqual([...plain.log.currentA]);
  expect([pair.summary.currentSign, hasDoubts(pair.doubts)]).toEqual(["charge-positive", false]);
  const empty = apart(
    ["Entladestrom [A]", "Ladestrom [A]"],
    rowsWith((_, currentA) => [currentA < 0 ? currentA : "", currentA > 0 ? currentA : ""]),
  );
  expect([...empty.log.currentA]).toEqual([...plain.log.currentA]);
});

test("a column of one direction alone, or one that holds both, is asked about and not taken for the current", () => {
  const alone = tableText(
    ["Test Time / s", "Discharge Current (A)", ...cells],
    rowsWith((_, currentA) => [-currentA]),
  );
  const { log, doubts } = logOf(alone);
  expect(log.currentA.every(Number.isNaN)).toBe(true);
  expect(hasDoubts(doubts)).toBe(true);
  expect(columnQuestions(alone.split("\n"), undefined, doubts)?.columns[1]).toMatchObject({
    proposal: { quantity: "discharge-current" },
    why: expect.stringContaining("no column is there for the other"),
  });
  const both = logOf(
    tableText(
      ["Test Time / s", "Charge Current (A)", "Discharge Current (A)", ...cells],
      rowsWith((_, currentA) => [currentA, -currentA]),
    ),
  );
  expect(Object.keys(both.doubts.openHeadings)).toEqual(["1", "2"]);
  const beside = logOf(
    tableText(
      ["Test Time / s", "Current / A", "Charge Current (A)", ...cells],
      rowsWith((_, currentA) => [currentA, 0]),
    ),
  );
  expect([beside.log.currentA[0], hasDoubts(beside.doubts)]).toEqual([-20, false]);
});

test.each([
  ["the only temperature", ["Max Temp (C)"]],
  ["beside a probe that stays cool", ["Max Temp (C)", "T1 (C)"]],
  ["under a German name", ["Temperatur Zelle 1 (°C)"]],
])("a pack at rest that heats itself is seen where its highest temperature is %s", (_, names) => {
  const headers = ["Test Time / s", "Current / A", ...names, ...upTo(14).map((number) => `Cell ${number} (V)`)];
  const rows = upTo(900).map((row) => [
    row,
    row < 300 ? -30 : 0,
    ...names.map((_, at) => (at === 0 ? (28 + Math.max(0, row - 700) / 2).toFixed(1) : 28)),
    ...upTo(14).map(() => (row < 300 ? 3.77 : 3.8)),
  ]);
  const { diagnosis } = reportReadings(logOf(tableText(headers, rows)), plainModel);
  expect(diagnosis.findings[0]).toMatchObject({ fault: "acute-event", safetyClass: "A0" });
});
