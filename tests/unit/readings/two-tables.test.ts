import { expect, test } from "vitest";
import { decodeText, logOf, packHeaders, packRows, packText, tableText } from "@/tests/support/pack-file";

const sentenceOf = (text: string) => {
  const result = decodeText(text);
  return result.kind === "unusable" ? result : { ...result, sentence: "read" };
};

function withSerialColumn(serials: readonly string[]): string {
  const rows = packRows(3, serials.length).map((row, at) => [...row, serials[at] ?? ""]);
  return tableText([...packHeaders(3), "Serial"], rows);
}

test("two serials in a column are two packs: the file is refused with both and the line of the second", () => {
  expect(sentenceOf(withSerialColumn(["AB-1", "AB-1", "AB-2", "AB-2"]))).toMatchObject({
    reason: "several-packs",
    sentence:
      "This file holds more than one pack: serial 'AB-1' in line 2, 'AB-2' in line 4; save each pack to a file of its own.",
  });
});

test("one serial written in several ways, or missing in some rows, is one pack", () => {
  const { log, summary } = logOf(`Serial: ab 12\n${withSerialColumn(["AB-12", "n/a", "", "AB12"])}`);
  expect([log.rows, summary.serialInFile]).toEqual([4, "ab 12"]);
});

test("a second block with the serial of another pack above it is refused", () => {
  const text = `Serial: AB-1\n${packText(3, 5)}\nSerial: AB-2\n${packText(3, 5)}`;
  expect(sentenceOf(text)).toMatchObject({
    reason: "several-packs",
    sentence: expect.stringContaining("'AB-2' in line 9"),
  });
});

test("a second table with other columns is refused with its line, also where it is the longer one", () => {
  const [small, large] = [packText(3, 6), packText(5, 6)];
  expect(sentenceOf(small + large)).toMatchObject({
    reason: "several-packs",
    sentence: expect.stringContaining("line 8"),
  });
  expect(sentenceOf(large + small)).toMatchObject({
    reason: "several-packs",
    sentence: expect.stringContaining("line 8"),
  });
});

test("a header repeated within the file, as loggers write it after a restart, is one table", () => {
  const rest = packText(3, 10).split("\n").slice(6).join("\n");
  const { log, summary } = logOf(`${packText(3, 5)}${packHeaders(3).join(",")}\n${rest}`);
  expect(log.rows).toBe(10);
  expect(summary.rejected).toEqual([{ line: 7, reason: "the header is repeated here" }]);
});

test("a summary of one line above the table is preamble", () => {
  const summary = "Test Time / s,Voltage / V,Current / A\n86400,11.1,0\n\n";
  expect(logOf(summary + packText(3, 8)).log.rows).toBe(8);
});
