import { expect, test } from "vitest";
import { foldAlikeColumns } from "@/lib/readings/alike-columns";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import { columnQuestions, headerShape } from "@/lib/readings/column-questions";
import { lacksTime } from "@/lib/readings/lacks-time";
import { unixOfLocal } from "@/lib/readings/local-time";
import { hasDoubts } from "@/lib/readings/reading-doubts";
import { decodeText, logOf, packHeaders, packRows, tableText } from "@/tests/support/pack-file";

const own = (choice: Partial<ColumnChoice> & Pick<ColumnChoice, "quantity">): ColumnChoice => ({
  number: null,
  unit: null,
  sign: null,
  ...choice,
});

/** Headings nobody knows, a pack of three groups in mV and mA, discharge counted as positive. */
const strangeHeaders = ["zeit_a", "strom_x", "zelle_a", "zelle_b", "zelle_c", "wert"];
const strangeText = tableText(
  strangeHeaders,
  packRows(3, 60).map(([time = 0, , current = 0, a = 0, b = 0, c = 0]) => [
    time,
    -1000 * current,
    Math.round(1000 * a),
    Math.round(1000 * b),
    Math.round(1000 * c),
    7,
  ]),
);
const strangeMapping = {
  zeit_a: own({ quantity: "test-time", unit: "s" }),
  strom_x: own({ quantity: "current", unit: "mA", sign: "discharge-positive" }),
  zelle_a: own({ quantity: "cell-voltage", number: 1, unit: "mV" }),
  zelle_b: own({ quantity: "cell-voltage", number: 2, unit: "mV" }),
  zelle_c: own({ quantity: "cell-voltage", number: 3, unit: "mV" }),
  wert: own({ quantity: "ignore" }),
};

test("a table none of whose headings are known is asked about column by column, with its first values", () => {
  expect(decodeText(strangeText)).toMatchObject({ kind: "unusable", reason: "no-header" });
  const questions = columnQuestions(strangeText.split("\n"), undefined, null);
  expect(questions?.columns.map(({ key }) => key)).toEqual(strangeHeaders);
  expect(questions?.columns[5]).toEqual({
    key: "wert",
    samples: ["7", "7", "7"],
    proposal: own({ quantity: "ignore" }),
    why: "This heading is not known; the column is left out unless you say what it is.",
  });
});

test("what a person says of the columns gives the same log as headings that say it themselves", () => {
  const confirmed = logOf(strangeText, { mapping: strangeMapping });
  const rows = packRows(3, 60).map((row) => [
    row[0] ?? 0,
    row[2] ?? 0,
    ...row.slice(3, 6).map((v) => Number(v.toFixed(3))),
  ]);
  const plain = logOf(tableText(["Test Time / s", "Current / A", ...packHeaders(3).slice(3, 6)], rows));
  expect([...confirmed.log.currentA]).toEqual([...plain.log.currentA]);
  expect(confirmed.log.cellVoltagesV.map((cell) => [...cell])).toEqual(
    plain.log.cellVoltagesV.map((cell) => [...cell]),
  );
  expect(confirmed.summary.currentSign).toBe("discharge-positive");
  expect(hasDoubts(confirmed.doubts)).toBe(false);
});

test("a table without any headings is read by the numbers of its columns", () => {
  const body = strangeText.split("\n").slice(1).join("\n");
  expect(columnQuestions(body.split("\n"), undefined, null)?.columns[0]).toMatchObject({
    key: "Column 1",
    samples: ["0", "1", "2"],
  });
  const mapping = Object.fromEntries(Object.values(strangeMapping).map((choice, at) => [`Column ${at + 1}`, choice]));
  expect(logOf(body, { mapping }).log.rows).toBe(60);
});

test("units told from the values, and a direction told from the data, are in doubt until they are confirmed", () => {
  const headers = ["Time", "I", "VC1", "VC2", "VC3"];
  const rows = packRows(3, 60).map(([time = 0, , current = 0, a = 0, b = 0, c = 0]) => [
    time,
    -current,
    ...[a, b, c].map((volts) => Math.round(1000 * volts)),
  ]);
  const text = tableText(headers, rows);
  const { doubts, summary } = logOf(text);
  expect(summary.currentSign).toBe("discharge-positive");
  const columns = columnQuestions(text.split("\n"), undefined, doubts)?.columns ?? [];
  expect(columns.map(({ proposal }) => proposal.unit)).toEqual([null, "A", "mV", "mV", "mV"]);
  expect(columns[1]?.proposal.sign).toBe("discharge-positive");
  expect(columns[1]?.why).toContain("positive when discharging, as the data show");
  const mapping = Object.fromEntries(columns.map(({ key, proposal }) => [key, proposal]));
  const again = logOf(text, { mapping });
  expect(hasDoubts(again.doubts)).toBe(false);
  expect(again.log).toEqual(logOf(text).log);
});

test("labels that name unit and direction leave no doubt", () => {
  expect(hasDoubts(logOf(tableText(packHeaders(4), packRows(4, 60))).doubts)).toBe(false);
});

test("a direction that a person confirmed is followed against the data, and said", () => {
  const mapping = { "Current / A": own({ quantity: "current", unit: "A", sign: "discharge-positive" }) };
  const { log, summary } = logOf(tableText(packHeaders(3), packRows(3, 200)), { mapping });
  expect(summary.currentSign).toBe("discharge-positive");
  expect(log.currentA[0]).toBe(20);
  expect(summary.remarks.join(" ")).toContain("the confirmation was followed");
});

test("two columns of one name are told apart by their place", () => {
  const headers = ["Test Time / s", "Cell 1 / V", "Cell 2 / V", "Temp", "Temp"];
  const text = tableText(headers, [
    [0, 3.7, 3.7, 20, 30],
    [1, 3.7, 3.7, 21, 31],
  ]);
  const mapping = {
    Temp: own({ quantity: "ambient-temperature", unit: "degC" }),
    "Temp (2)": own({ quantity: "mosfet-temperature", unit: "degC" }),
  };
  const { log } = logOf(text, { mapping });
  expect([log.ambientTemperatureC?.[1], log.mosfetTemperatureC?.[1]]).toEqual([21, 31]);
});

test("local times are read in the zone that was confirmed, on both sides of a change of summer time", () => {
  const at = (text: string, zone: string) =>
    new Date(unixOfLocal(Date.parse(`${text}Z`) / 1000, zone) * 1000).toISOString();
  // Offsets of Berlin: +1 h in winter, +2 h in summer; 2025-03-30 02:00 does not exist, 2025-10-26 02:30 exists twice (IANA tz, from memory).
  expect(at("2025-01-10T12:00:00", "Europe/Berlin")).toBe("2025-01-10T11:00:00.000Z");
  expect(at("2025-07-10T12:00:00", "Europe/Berlin")).toBe("2025-07-10T10:00:00.000Z");
  expect(at("2025-10-26T02:30:00", "Europe/Berlin")).toBe("2025-10-26T00:30:00.000Z");
  expect(at("2025-10-26T03:30:00", "Europe/Berlin")).toBe("2025-10-26T02:30:00.000Z");
  const text = "Date,Cell 1 / V,Cell 2 / V\n2025-07-10 12:00:00,3.7,3.7\n2025-07-10 12:00:01,3.7,3.7\n";
  expect(logOf(text).doubts.lacksZone).toBe(true);
  const { log, doubts } = logOf(text, { timeZone: "Europe/Berlin" });
  expect([log.startUnixS, doubts.lacksZone]).toEqual([Date.parse("2025-07-10T10:00:00Z") / 1000, false]);
});

test("the shape of a header is the same for every file of one kind, and another for others", () => {
  const longer = tableText(packHeaders(3), packRows(3, 5));
  expect(headerShape(longer.split("\n"))).toBe(
    headerShape(`Serial: AB\n${tableText(packHeaders(3), packRows(3, 2))}`.split("\n")),
  );
  expect(headerShape(longer.split("\n"))).not.toBe(headerShape(longer.replaceAll(",", ";").split("\n")));
  expect(headerShape(["no table", "at all"])).toBeNull();
});

test("a column of dates under a heading nobody knows is proposed as the time, and its zone asked for", () => {
  const rows = ["16.11.2026 06:01:00;3.7;3.7", "16.11.2026 06:02:00;3.7;3.7"];
  const questions = columnQuestions(["Zeitpunkt;Cell 1;Cell 2", ...rows], undefined, null);
  expect(questions?.columns[0]).toMatchObject({
    proposal: { quantity: "time-of-some-kind" },
    why: "This heading is not known, but its values look like the time.",
  });
  expect(questions?.asksZone).toBe(true);
  const inUtc = rows.map((row) => row.replace(/16\.11\.2026 (\S+?);/, "2026-11-16T$1Z;"));
  expect(columnQuestions(["Zeitpunkt;Cell 1;Cell 2", ...inUtc], undefined, null)?.asksZone).toBe(false);
});

test("where a heading says which column is the time, no other is proposed", () => {
  const questions = columnQuestions(["Time;Seen;Cell 1", "1;2026-11-16;3.7", "2;2026-11-16;3.7"], undefined, null);
  expect(questions?.columns[1]?.proposal.quantity).toBe("ignore");
});

test("answers without a time are told from answers with one", () => {
  expect(lacksTime([own({ quantity: "current" }), own({ quantity: "ignore" })])).toBe(true);
  expect(lacksTime([own({ quantity: "current" }), own({ quantity: "date" })])).toBe(false);
});

const proposed = (headers: readonly string[], rows: readonly (readonly (string | number)[])[]) =>
  columnQuestions(
    [headers, ...rows].map((row) => row.join(";")),
    undefined,
    null,
  )?.columns.map(({ proposal: { quantity, number, unit } }) => [quantity, number, unit]);
/** Rows of a moment, a current, four groups in volts with a decimal comma, and a warmth. */
const fourGroups = Array.from({ length: 8 }, (_, row) => [
  2 * row,
  -4 - (row % 2),
  ...["3,901", "3,899", "3,900", "3,902"],
  23,
]);

test("columns of one unknown name whose values are those of cell groups are proposed as such, others by their unit", () => {
  const headers = ["Marke", "Fluss [A]", ...[1, 2, 3, 4].map((n) => `Feld ${n} innen`), "Wärme / °C"];
  expect(proposed(headers, fourGroups)).toEqual([
    ["test-time", null, null],
    ["current", null, "A"],
    ["cell-voltage", 1, "V"],
    ["cell-voltage", 2, "V"],
    ["cell-voltage", 3, "V"],
    ["cell-voltage", 4, "V"],
    ["temperature", null, "degC"],
  ]);
  const millivolts = fourGroups.map(([at = 0]) => [at, 3901, 3899, 3900, 3902]);
  expect(proposed(["Marke", "Feld", "Feld", "Feld", "Feld"], millivolts)?.slice(1)).toEqual(
    [1, 2, 3, 4].map((number) => ["cell-voltage", number, "mV"]),
  );
});

test("what could be many things is proposed as none of them", () => {
  const flags = Array.from({ length: 8 }, (_, row) => [`2026-05-0${row + 1} 10:00:00`, 2, 2, 2, 2, 5]);
  // Four columns of one name with a value of 2, and one that does not rise: neither a unit nor their size tells what they are.
  expect(proposed(["x", "Stufe 1", "Lage 2", "Wahl 3", "Zug 4", "Rest"], flags)).toEqual([
    ["time-of-some-kind", null, null],
    ...Array.from({ length: 5 }, () => ["ignore", null, null]),
  ]);
});

/** Rows of a moment, a current that moves and the groups given, in V. */
const rowsOf = (groups: readonly (number | string)[]) =>
  Array.from({ length: 12 }, (_, row) => [2 * row, -4 - (row % 3), ...groups] as (number | string)[]);
const fields = (numbers: readonly number[]) => numbers.map((n) => `Feld ${n} innen`);
const groupsProposed = (numbers: readonly number[], rows: readonly (readonly (string | number)[])[]) =>
  proposed(["Marke", "Fluss [A]", ...fields(numbers)], rows)
    ?.slice(2)
    .map(([quantity, number]) => (quantity === "cell-voltage" ? number : quantity));
const upTo = (count: number) => Array.from({ length: count }, (_, at) => at + 1);

test.each([
  ["a dead group", 6, 1.2],
  ["a group beyond its charge", 2, 4.6],
  ["a group whose wire is lost", 0, 0],
  ["a group beside a lost wire", 1, 7.8],
  ["a group without one value", 9, ""],
])("%s stays among the groups of its name", (_, odd, volts) => {
  const groups = upTo(10).map((n) => (n - 1 === odd ? volts : 3.9));
  expect(groupsProposed(upTo(10), rowsOf(groups))).toEqual(upTo(10));
});

test("one empty field ends no run of groups, and a group that reads like none is asked about by itself", () => {
  const rows = rowsOf(upTo(10).map((n) => (n === 7 ? 1.2 : 3.9)));
  rows[3]?.splice(5, 1, "");
  expect(groupsProposed(upTo(10), rows)).toEqual(upTo(10));
  const text = [["Marke", "Fluss [A]", ...fields(upTo(10))], ...rows].map((row) => row.join(";"));
  const folded = foldAlikeColumns(columnQuestions(text, undefined, null)?.columns ?? []);
  expect(folded.map((run) => run.map(({ proposal }) => proposal.number)).slice(2)).toEqual([
    [1, 2, 3, 4, 5, 6],
    [7],
    [8],
    [9],
    [10],
  ]);
});

test("groups have the numbers of their headings, from one, and where those tell nothing apart none is proposed", () => {
  const like = (count: number) => rowsOf(Array.from({ length: count }, () => 3.9));
  expect(groupsProposed([8, 7, 6, 5, 4, 3, 2, 1], like(8))).toEqual([8, 7, 6, 5, 4, 3, 2, 1]);
  expect(groupsProposed([1, 2, 5, 6, 7], like(5))).toEqual([1, 2, 5, 6, 7]);
  expect(groupsProposed([0, 1, 2, 3], like(4))).toEqual([1, 2, 3, 4]);
  expect(groupsProposed([1, 2, 2, 3], like(4))).toEqual(["ignore", "ignore", "ignore", "ignore"]);
  const inParts = (names: string[]) => proposed(["Marke", "Fluss [A]", ...names], like(4))?.slice(2);
  // Two numbers that rise together are a count through the parts; with one left out nothing tells where the second part begins.
  expect(inParts(["Teil 1 Feld 1", "Teil 1 Feld 2", "Teil 2 Feld 1", "Teil 2 Feld 2"])).toEqual(
    upTo(4).map((number) => ["cell-voltage", number, "V"]),
  );
  expect(inParts(["Teil 1 Feld 1", "Teil 1 Feld 2", "Teil 2 Feld 2", "Teil 2 Feld 3"])).toEqual(
    upTo(4).map(() => ["ignore", null, null]),
  );
});

test("columns of one name for a whole table, or two names that could be the groups, are proposed as neither", () => {
  const table = Array.from({ length: 12 }, (_, row) => [2 * row, 62, ...upTo(10).map(() => 3.9)]);
  const kinds = (headers: string[], rows: (string | number)[][]) => proposed(headers, rows)?.map(([kind]) => kind);
  expect(
    kinds(
      upTo(12).map((n) => `Kanal ${n}`),
      table,
    ),
  ).not.toContain("cell-voltage");
  const two = [...upTo(4).map((n) => `Feld ${n}`), ...upTo(4).map((n) => `Lage ${n}`)];
  expect(kinds(["Zeit", "Strom", ...two], rowsOf(upTo(8).map(() => 3.9)))).not.toContain("cell-voltage");
  // Four cold probes and four limits are no groups and hide none.
  for (const other of ["Sonde", "Schwelle"]) {
    const beside = [...upTo(4).map((n) => `${other} ${n}`), ...upTo(4).map((n) => `Feld ${n}`)];
    const cold = rowsOf([2.1, 2.2, 2.3, 2.2, 3.9, 3.9, 3.9, 3.9]);
    expect(kinds(["Zeit", "Strom", ...beside], cold)?.slice(2)).toEqual([
      ...Array.from({ length: 4 }, () => "ignore"),
      ...Array.from({ length: 4 }, () => "cell-voltage"),
    ]);
  }
});

test("a unit alone makes no health a charge, no limit a current, and nothing that could be two columns either of them", () => {
  const cells = upTo(4).map((n) => `Zelle ${n} [V]`);
  const kindOf = (header: string, value: (row: number) => number, more: string[] = []) =>
    proposed(
      ["Zeit [s]", header, ...more, ...cells],
      Array.from({ length: 12 }, (_, row) => [row, value(row), ...more.map(() => -row), 3.9, 3.9, 3.9, 3.9]),
    )
      ?.slice(1, 2 + more.length)
      .map(([kind]) => kind);
  expect(kindOf("SOH [%]", (row) => 97 - (row % 2))).toEqual(["ignore"]);
  expect(kindOf("Licht [%]", (row) => 10 + row)).toEqual(["ignore"]);
  expect(kindOf("Grenze laden [A]", () => 40, ["Fluss [A]"])).toEqual(["ignore", "current"]);
  expect(kindOf("Imax [A]", (row) => 40 - row)).toEqual(["ignore"]);
  expect(kindOf("Sollwert [A]", (row) => 40 - row)).toEqual(["ignore"]);
  expect(kindOf("Vorrat [A]", () => 40)).toEqual(["ignore"]);
  expect(kindOf("Fluss vorn [A]", (row) => row, ["Fluss hinten [A]"])).toEqual(["ignore", "ignore"]);
  expect(kindOf("Ladegrenze [V]", (row) => 67 + (row % 2))).toEqual(["ignore"]);
  expect(kindOf("Schalter warm [°C]", (row) => 60 + row)).toEqual(["ignore"]);
  expect(kindOf("Umgebung [°C]", () => 20)).toEqual(["ignore"]);
  expect(kindOf("Rate [C]", () => 0.5)).toEqual(["ignore"]);
});

test("the number of a row, a distance and a warmth are not proposed as the time", () => {
  const cells = upTo(4).map((n) => `Zelle ${n} [V]`);
  const first = (header: string, value: (row: number) => number | string) =>
    proposed(
      [header, "Strom [A]", ...cells],
      Array.from({ length: 12 }, (_, row) => [value(row), -4, 3.9, 3.9, 3.9, 3.9]),
    )?.[0]?.[0];
  expect(first("Marke", (row) => row + 1)).toBe("ignore");
  expect(first("Nr", (row) => 10 * row)).toBe("ignore");
  expect(first("Index", (row) => 10 * row)).toBe("ignore");
  expect(first("Tacho", (row) => 1200 + row)).toBe("ignore");
  expect(first("Temps", (row) => (21 + 0.1 * row).toFixed(1))).toBe("ignore");
  expect(first("Marke", (row) => 10 * row)).toBe("test-time");
});

test("an English column of temperatures is not read as a French one of times", () => {
  const headers = ["seq", "Amps", ...upTo(4).map((n) => `Cell ${n}`), "Temps"];
  const rows = Array.from({ length: 40 }, (_, row) => [row, -5, 3.9, 3.9, 3.9, 3.9, (21 + 0.1 * row).toFixed(1)]);
  expect(decodeText(tableText(headers, rows))).toMatchObject({ kind: "unusable" });
  const timed = logOf(tableText(["Time", ...headers.slice(1)], rows));
  expect(timed.summary.remarks.join(" ")).not.toContain("named twice");
  const dated = ["Data;Zelle 1;Zelle 2", "2026-05-01 10:00:00;3.7;3.7", "2026-05-01 10:00:01;3.7;3.7"];
  expect(columnQuestions(dated, undefined, null)?.columns[0]?.why).toContain("look like the time");
});

test("headings in the languages of dealers' tools are read without a question", () => {
  const german = ["Zeit [s]", "Strom [A]", ...[1, 2, 3, 4].map((n) => `Zelle ${n} [V]`), "Temperatur / °C"];
  const spanish = [
    "Tiempo (s)",
    "Corriente (A)",
    ...[1, 2, 3, 4].map((n) => `Tensión celda ${n} (V)`),
    "Temperatura (°C)",
  ];
  for (const headers of [german, spanish]) {
    const text = [headers, ...fourGroups].map((row) => row.join(";")).join("\n");
    const { log } = logOf(text);
    expect(log.cellVoltagesV.map((cell) => cell[0])).toEqual([3.901, 3.899, 3.9, 3.902]);
    expect(log.currentA?.[0]).toBe(-4);
    expect(log.temperatures).toHaveLength(1);
  }
});
