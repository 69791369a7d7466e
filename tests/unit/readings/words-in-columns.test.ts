import { expect, test } from "vitest";
import { createReadingDecoder } from "@/lib/readings/read-readings";
import { plainLogCsv } from "@/tests/support/plain-log-csv";

function read(csv: string) {
  const decoder = createReadingDecoder();
  decoder.push(new TextEncoder().encode(csv));
  const result = decoder.end();
  if (result.kind === "unusable") throw new Error(result.sentence);
  return result;
}

test("a word from a temperature probe costs no row; it is not measured there, and a remark says so", () => {
  const csv = plainLogCsv({ groups: 4, rows: 20 }).replaceAll("21.0\n", "ERR7\n");
  const { log, summary } = read(csv);
  expect(summary.rejected).toEqual([]);
  expect(log.rows).toBe(20);
  expect(summary.remarks.join(" ")).toMatch(/Temperature T1.*words.*ERR7.*20 rows/);
});

test("a word in place of a cell voltage still rejects its row, with line and reason", () => {
  const lines = plainLogCsv({ groups: 4, rows: 20 }).split("\n");
  lines[5] = (lines[5] ?? "").replace("3.80", "abc3.80");
  const { summary } = read(lines.join("\n"));
  expect(summary.rejected).toEqual([{ line: 6, reason: expect.stringMatching(/cell 1.*abc3\.80/) }]);
});
