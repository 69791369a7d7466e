import { expect, test } from "vitest";
import { decodeBytes, decodeText, logOf, packHeaders, packRows, packText, tableText } from "@/tests/support/pack-file";

const text = packText(4, 40);
const plain = logOf(text);

function sameValues(other: string | Uint8Array): void {
  const result = typeof other === "string" ? decodeText(other) : decodeBytes(other);
  if (result.kind !== "log") throw new Error(result.sentence);
  expect(result.summary.rejected).toEqual([]);
  expect(result.summary.rows).toBe(plain.summary.rows);
  expect([...result.log.timeS]).toEqual([...plain.log.timeS]);
  expect([...result.log.currentA]).toEqual([...plain.log.currentA]);
  expect(result.log.cellVoltagesV.map((cell) => [...cell])).toEqual(plain.log.cellVoltagesV.map((cell) => [...cell]));
}

function utf16(content: string, bigEndian: boolean, mark: boolean): Uint8Array {
  const marked = mark ? `\uFEFF${content}` : content;
  const bytes = new Uint8Array(marked.length * 2);
  const view = new DataView(bytes.buffer);
  for (let at = 0; at < marked.length; at++) view.setUint16(at * 2, marked.charCodeAt(at), !bigEndian);
  return bytes;
}

test("a byte-order mark in front changes nothing", () => sameValues(`\uFEFF${text}`));
test("CR LF and lone CR end lines as LF does", () => {
  sameValues(text.replaceAll("\n", "\r\n"));
  sameValues(text.replaceAll("\n", "\r"));
});
test.each([true, false])("UTF-16 (big-endian %s) is read with and without a byte-order mark", (bigEndian) => {
  sameValues(utf16(text, bigEndian, true));
  sameValues(utf16(text, bigEndian, false));
});
test.each([";", "\t", "|"])("the delimiter %j is recognised", (delimiter) =>
  sameValues(text.replaceAll(",", delimiter)),
);
test("a decimal comma is recognised where another mark separates the values", () =>
  sameValues(text.replaceAll(",", ";").replaceAll(".", ",")));
test("a decimal comma is recognised inside quotes in a comma-separated file", () =>
  sameValues(
    text
      .split("\n")
      .map((line) => line.replace(/\d+\.\d+/g, (number) => `"${number.replace(".", ",")}"`))
      .join("\n"),
  ));
test("quoted fields and blanks around values are read", () => {
  sameValues(text.replace(/[^,\n]+/g, '"$&"'));
  sameValues(text.replaceAll(",", " , "));
});
test("a delimiter too many at the end of every line is ignored", () => sameValues(text.replaceAll("\n", ",\n")));
test("blank lines are passed over and counted as lines", () => {
  sameValues(text.replaceAll("\n", "\n\n"));
  expect([...logOf(text.replaceAll("\n", "\n\n")).log.line.slice(0, 2)]).toEqual([3, 5]);
});
test("a file without a last line end keeps its last row", () => sameValues(text.trimEnd()));
test("lines above the header are preamble, and a serial named there is kept", () => {
  const result = logOf(`Logger export\nSerial number: RB-1234-X\nAll times relative, sorry\n\n${text}`);
  expect(result.summary.serialInFile).toBe("RB-1234-X");
  expect(result.log.line[0]).toBe(6);
  sameValues(`Logger export\nSerial number: RB-1234-X\n\n${text}`);
});
test("a line of units under the header is taken as units", () => {
  const rows = packRows(2, 10).map((row) => row.map((value, at) => (at === 3 || at === 4 ? value * 1000 : value)));
  const { log } = logOf(`Time,Voltage,Current,Cell 1,Cell 2,T1,SoC\ns,V,A,mV,mV,°C,%\n${tableText([], rows).slice(1)}`);
  expect(log.cellVoltagesV[0]?.[0]).toBeCloseTo(3.68, 9);
  expect(log.rows).toBe(10);
});
test("a header repeated in the middle of a file is rejected as such", () => {
  const lines = text.trimEnd().split("\n");
  const result = logOf([...lines.slice(0, 11), lines[0], ...lines.slice(11)].join("\n"));
  expect(result.summary.rejected).toEqual([{ line: 12, reason: "the header is repeated here" }]);
});

test("a short row is rejected with its line and its count", () => {
  const lines = text.split("\n");
  lines[5] = "1,2,3";
  expect(logOf(lines.join("\n")).summary.rejected).toEqual([{ line: 6, reason: "3 values where the header has 9" }]);
});
test("a long row is rejected with its line and its count", () => {
  const lines = text.split("\n");
  lines[5] = `${lines[5]},7`;
  expect(logOf(lines.join("\n")).summary.rejected).toEqual([{ line: 6, reason: "10 values where the header has 9" }]);
});
test.each([
  ["abc", "current is not a number: 'abc'"],
  ["1,234.5", "current has a thousands mark and is not guessed at: '1,234.5'"],
  ["1e400", "current is too large to be a reading: '1e400'"],
  ["3.7.1", "current is not a number: '3.7.1'"],
  ["\u0007x", "current is not a number: '?x'"],
])("current %j rejects its row", (field, reason) => {
  const rows: (number | string)[][] = packRows(4, 20);
  rows[3]?.splice(2, 1, `"${field}"`);
  expect(logOf(tableText(packHeaders(4), rows)).summary.rejected).toEqual([{ line: 5, reason }]);
});
test.each(["", "NaN", "nan", "inf", "-inf", "#N/A", "null", "--"])(
  "current %j is not measured, and its row is kept",
  (token) => {
    const rows: (number | string)[][] = packRows(4, 20);
    rows[3]?.splice(2, 1, token);
    const { log, summary } = logOf(tableText(packHeaders(4), rows));
    expect(summary.rejected).toEqual([]);
    expect(log.currentA[3]).toBeNaN();
  },
);
test("a row without a time is rejected", () => {
  const rows: (number | string)[][] = packRows(4, 20);
  rows[3]?.splice(0, 1, "");
  expect(logOf(tableText(packHeaders(4), rows)).summary.rejected).toEqual([{ line: 5, reason: "time is missing" }]);
});
test("a file cut in the middle of a row loses that row, with the reason", () => {
  const cut = logOf(text.slice(0, text.lastIndexOf(",", text.length - 20)));
  expect(cut.summary.rejected).toHaveLength(1);
  expect(cut.summary.rejected[0]?.reason).toMatch(
    /^\d values where the header has 9; the file ends in the middle of this row$/,
  );
});
test("a last value cut short is noticed where every row before has more digits", () => {
  const fixed = tableText(
    ["Test Time / s", "Current / A", "Cell 01 Voltage / V"],
    [
      [0, 1, "3.700"],
      [1, 1, "3.701"],
      [2, 1, "3.702"],
    ],
  );
  expect(logOf(fixed.trimEnd()).summary.rows).toBe(3);
  const cut = logOf(fixed.slice(0, -3));
  expect(cut.summary.rows).toBe(2);
  expect(cut.summary.rejected[0]?.reason).toBe("the last value is cut short; the file ends in the middle of this row");
});
test("the list of rejected rows stops at 1,000 and the rest are counted", () => {
  const { summary } = logOf(`${text}${"x,y\n".repeat(1500)}`);
  expect(summary.rejected).toHaveLength(1000);
  expect(summary.rejectedNotListed).toBe(500);
});
test("a stray quote costs one row, not the rest of the file", () => {
  const lines = text.split("\n");
  lines[5] = `"${lines[5]}`;
  const { summary } = logOf(lines.join("\n"));
  expect(summary.rows).toBe(39);
  expect(summary.rejected.map((row) => row.line)).toEqual([6]);
});

test.each([
  ["", "empty"],
  ["  \n\n", "empty"],
  ["hello\nworld\n", "no-header"],
  ["Voltage / V,Current / A,Cell 1,Cell 2\n1,2,3,4\n", "no-time-column"],
  ["Test Time / s,Current / A\n0,1\n", "no-cells"],
  ["Test Time / s,Voltage / V,Current / A\n0,52.1,1\n", "no-cells"],
  ["Test Time / s,Current / A,Cell 1\n", "header-only"],
  ["Test Time / s,Current / A,Cell 1\n0,a,3.7\n1,b,3.7\n", "no-usable-rows"],
])("%j is unusable: %s", (content, reason) => {
  const result = decodeText(content);
  expect(result).toMatchObject({ kind: "unusable", reason });
  if (result.kind === "unusable") expect(result.sentence).toMatch(/^[A-Z].*\.$/);
});
test.each([
  ["%PDF-1.7 rest", /PDF document.*export/],
  ["PK\u0003\u0004 rest", /spreadsheet.*export/],
  ["Time,Current\u0000\u0001\u0002", /binary file.*export/],
])("%j is no text, and the sentence says what it is", (content, sentence) => {
  expect(decodeText(content)).toMatchObject({
    kind: "unusable",
    reason: "not-text",
    sentence: expect.stringMatching(sentence),
  });
});
