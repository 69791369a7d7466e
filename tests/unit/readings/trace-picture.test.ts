import { expect, test } from "vitest";
import { createReadingDecoder } from "@/lib/readings/read-readings";
import { tracePicture } from "@/lib/readings/trace-picture";
import { plainLogCsv } from "@/tests/support/plain-log-csv";

function logOf(csv: string) {
  const decoder = createReadingDecoder();
  decoder.push(new TextEncoder().encode(csv));
  const read = decoder.end();
  if (read.kind !== "log") throw new Error(read.sentence);
  return read.log;
}

test("a spike of one row is kept in ten thousand", () => {
  const lines = plainLogCsv({ groups: 3, rows: 10_000 }).split("\n");
  const spiked = lines.map((line, index) => (index === 7_000 ? line.replace(",0.0,", ",-87.5,") : line));
  const picture = tracePicture(logOf(spiked.join("\n")), []);
  const current = picture.series.find(({ key }) => key === "current");
  expect(picture.timeS.length).toBeLessThanOrEqual(360);
  expect(Math.min(...(current?.lowest.map((value) => value ?? 0) ?? []))).toBe(-87.5);
});

test("a group of interest has one trace of its own, one that does not exist has none", () => {
  const picture = tracePicture(logOf(plainLogCsv({ groups: 4 })), [2, 9, 2]);
  expect(picture.series.filter(({ group }) => group !== null).map(({ group }) => group)).toEqual([2]);
});

test("a short log keeps every row, and nothing in the picture is NaN", () => {
  const picture = tracePicture(logOf(plainLogCsv({ groups: 2, rows: 10 })), []);
  expect(picture.rowsPerBucket).toBe(1);
  expect(JSON.stringify(picture)).not.toContain("NaN");
});
