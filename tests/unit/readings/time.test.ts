import fc from "fast-check";
import { expect, test } from "vitest";
import { dayOrderOf, readDateTime } from "@/lib/readings/date-time";
import { createReadingDecoder } from "@/lib/readings/read-readings";
import { coverageShare, gapLimitS } from "@/lib/readings/time-gaps";
import { earliestFor, repairTime } from "@/lib/readings/time-repair";
import { logOf } from "@/tests/support/pack-file";

const calendar = (builtUnixS: number | null = null, isUnchanged = false) => ({
  earliestUnixS: earliestFor(builtUnixS),
  isUnchanged: () => isUnchanged,
});
const clock = (...values: number[]) => Float64Array.from(values);

test("a reset of a single row takes the time of the row before", () => {
  const repaired = repairTime(clock(10, 20, 0, 30, 40), null);
  expect([...repaired.timeS]).toEqual([0, 10, 10, 20, 30]);
  expect(repaired.resets).toEqual([2]);
  expect([...repaired.segment]).toEqual([0, 0, 0, 0, 0]);
});
test("two or three rows reset one after another are resets where the clock goes on from where it was, and a new clock where it does not", () => {
  const repaired = repairTime(clock(4000, 4060, 0, 0, 4240, 4300, 10, 20, 30, 4540), null);
  expect([...repaired.timeS]).toEqual([0, 60, 60, 60, 240, 300, 300, 300, 300, 540]);
  expect(repaired.resets).toEqual([2, 3, 6, 7, 8]);
  expect(repaired.steps).toEqual([]);
  // A clock that comes back only after an hour: what happened meanwhile is not known.
  expect(repairTime(clock(4000, 4060, 0, 0, 7600, 7660, 7720), null).steps).toHaveLength(1);
  expect(repairTime(clock(4000, 4060, 0, 60, 120, 180, 4240), null).steps).toHaveLength(1);
});
test("a clock that steps back and stays back starts a segment that continues from the row before", () => {
  const repaired = repairTime(clock(100, 110, 120, 5, 15, 25), null);
  expect([...repaired.timeS]).toEqual([0, 10, 20, 20, 30, 40]);
  expect([...repaired.segment]).toEqual([0, 0, 0, 1, 1, 1]);
  expect(repaired.steps).toEqual([{ row: 3, stepS: -115 }]);
});
test("a single row that leaps ahead and comes back takes the time of the row before", () => {
  const repaired = repairTime(clock(0, 10, 99_999, 20, 30), null);
  expect([...repaired.timeS]).toEqual([0, 10, 10, 20, 30]);
});
test("a clock set from 1970 to today starts a segment instead of lasting fifty years", () => {
  const repaired = repairTime(clock(5, 6, 7, 1_700_000_000, 1_700_000_001), calendar());
  expect([...repaired.timeS]).toEqual([0, 1, 2, 2, 3]);
  expect([...repaired.segment]).toEqual([0, 0, 0, 1, 1]);
});
// 2015-01-01 and 2023-11-14 as `date -u -d … +%s` (GNU coreutils) gives them.
const [in2015, in2023] = [1_420_070_400, 1_699_920_000];
test("a clock that shows a day before the pack was built was not set, though the day itself is believable", () => {
  const clockS = clock(in2015, in2015 + 10, in2023, in2023 + 10);
  expect([...repairTime(clockS, calendar()).segment]).toEqual([0, 0, 0, 0]);
  const known = repairTime(clockS, calendar(in2023 - 90 * 86_400));
  expect([...known.segment]).toEqual([0, 0, 1, 1]);
  expect([...known.timeS]).toEqual([0, 10, 10, 20]);
});
test("rows of a test at the works, weeks before the date of build, are followed by use without the clock being set", () => {
  const built = in2023 + 30 * 86_400;
  const clockS = clock(in2023, in2023 + 10, built + 90 * 86_400, built + 90 * 86_400 + 10);
  expect([...repairTime(clockS, calendar(built)).segment]).toEqual([0, 0, 0, 0]);
  // The pack stands in the next row as it did: the clock was set.
  expect([...repairTime(clockS, calendar(built, true)).segment]).toEqual([0, 0, 1, 1]);
});
test("a leap of more than a year at the same voltages is a clock that was set, at other voltages a pack that stood", () => {
  const clockS = clock(in2015, in2015 + 10, in2023, in2023 + 10);
  expect([...repairTime(clockS, calendar(null, true)).segment]).toEqual([0, 0, 1, 1]);
  const months = clock(in2015, in2015 + 300 * 86_400);
  expect([...repairTime(months, calendar(null, true)).segment]).toEqual([0, 0]);
});
test("equal times are counted, not moved", () => expect(repairTime(clock(0, 1, 1, 2), null).duplicates).toBe(1));
test("repaired time never falls, and a clock in order comes back unchanged", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: 0, max: 5000 }), { minLength: 1, maxLength: 40 }), (values) => {
      const { timeS } = repairTime(clock(...values), null);
      for (let row = 1; row < timeS.length; row++) expect(timeS[row]).toBeGreaterThanOrEqual(timeS[row - 1] ?? 0);
      const sorted = [...values].sort((a, b) => a - b);
      expect([...repairTime(clock(...sorted), null).timeS]).toEqual(sorted.map((value) => value - (sorted[0] ?? 0)));
    }),
  );
});

test("a gap is more than five usual steps and more than a minute, and does not count as covered", () => {
  const segment = new Int32Array(5);
  expect(gapLimitS(clock(0, 1, 2, 3, 4), segment)).toBe(60);
  expect(gapLimitS(clock(0, 30, 60, 90, 120), segment)).toBe(150);
  expect(coverageShare(clock(0, 1, 2, 98, 100), segment, 60, Uint8Array.of(1, 1, 1, 1, 1))).toBeCloseTo(0.04, 12);
  expect(coverageShare(clock(0), new Int32Array(1), 60, Uint8Array.of(1))).toBe(0);
});

test("a bad date stays no date", () => {
  expect(readDateTime("2024-02-30 10:00", "year-first")).toBeNull();
  expect(readDateTime("2024-03-01T25:00:00", "year-first")).toBeNull();
});
// Unix times of the ISO dates as `date -u -d … +%s` (GNU coreutils) gives them.
test.each([
  ["2024-03-01T12:34:56Z", "year-first", 1_709_296_496],
  ["2024-03-01 12:34:56.25+05:45", "year-first", 1_709_275_796.25],
  ["01.03.2024 12:34", "day-first", 1_709_296_440],
  ["3/1/2024 12:34:56 PM", "month-first", 1_709_296_496],
] as const)("%s is read %s", (text, order, unixS) => expect(readDateTime(text, order)?.unixS).toBe(unixS));
test("the order of day and month comes from the dates, and is ambiguous where they do not tell", () => {
  expect(dayOrderOf(["03/04/2024", "03/13/2024"])).toBe("month-first");
  expect(dayOrderOf(["03/04/2024", "13/04/2024"])).toBe("day-first");
  expect(dayOrderOf(["03/04/2024"])).toBe("ambiguous");
  expect(dayOrderOf(["12.5"])).toBeNull();
});

const body = (times: readonly (string | number)[]) => times.map((time) => `${time},1,3.7,3.7\n`).join("");
test("dates without a zone are read, and a remark says that the zone is unknown", () => {
  const { log, summary } = logOf(`Date_Time,Current(A),c1,c2\n${body(["2024-03-01 10:00:00", "2024-03-01 10:00:05"])}`);
  expect([...log.timeS]).toEqual([0, 5]);
  expect(log.startUnixS).toBe(1_709_287_200);
  expect(summary.remarks.join(" ")).toMatch(/local time without a zone/);
});
test("a date column and a time-of-day column are joined", () => {
  const { log } = logOf("Date,Time,Current(A),c1,c2\n2024-03-01,23:59:59,1,3.7,3.7\n2024-03-02,00:00:01,1,3.7,3.7\n");
  expect([...log.timeS]).toEqual([0, 2]);
});
test("a time of day alone runs on over midnight", () => {
  const { log } = logOf(`Time,Current(A),c1,c2\n${body(["23:59:59", "00:00:01"])}`);
  expect([...log.timeS]).toEqual([0, 2]);
  expect(log.startUnixS).toBeNull();
});
test("a time of day alone with its newest row first runs on over midnight as well", () => {
  const { log, summary } = logOf(`Time,Current(A),c1,c2\n${body(["00:00:20", "00:00:10", "00:00:00", "23:59:50"])}`);
  expect([...log.timeS]).toEqual([0, 10, 20, 30]);
  expect([...log.line]).toEqual([5, 4, 3, 2]);
  expect([...log.segment]).toEqual([0, 0, 0, 0]);
  expect(summary.timeRepairs).toBe(0);
  // Many rows, as a rest of two days has them, newest first.
  const count = 300;
  const times = Array.from({ length: count }, (_, row) => {
    const minute = (count - 1 - row) * 10;
    return `${String(Math.floor(minute / 60) % 24).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}:00`;
  });
  const long = logOf(`Time,Current(A),c1,c2\n${body(times)}`).log;
  expect(long.timeS.at(-1)).toBe((count - 1) * 600);
  expect(long.segment.at(-1)).toBe(0);
});
test.each([[1], [1000], [1_000_000]])("a count since 1970 in 1/%d s is recognised by its size", (perSecond) => {
  const { log } = logOf(`timestamp,Current(A),c1,c2\n${body([1_709_287_200 * perSecond, 1_709_287_203 * perSecond])}`);
  expect(log.startUnixS).toBe(1_709_287_200);
  expect(log.timeS[1]).toBeCloseTo(3, 5);
});
test("a file with its newest row first is put in order", () => {
  const { log, summary } = logOf(`time,current,c1,c2\n${body([30, 20, 10, 0])}`);
  expect([...log.timeS]).toEqual([0, 10, 20, 30]);
  expect([...log.line]).toEqual([5, 4, 3, 2]);
  expect(summary.timeRepairs).toBe(0);
});
test("a clock put back by an hour is named as local time and not counted across", () => {
  const rows = Array.from({ length: 20 }, (_, row) => 1_709_287_200 + row * 10 - (row >= 10 ? 3600 : 0));
  const { log, summary } = logOf(`Unix Time / s,current,c1,c2\n${body(rows)}`);
  expect(log.segment[10]).toBe(1);
  expect(summary.timeRepairs).toBe(1);
  expect(summary.remarks.join(" ")).toMatch(/as local time does/);
});
test("a clock put forward by an hour while the voltages stand is named", () => {
  const rows = Array.from({ length: 20 }, (_, row) => 1_709_287_200 + row * 10 + (row >= 10 ? 3600 : 0));
  expect(logOf(`Unix Time / s,current,c1,c2\n${body(rows)}`).summary.remarks.join(" ")).toMatch(
    /leaps ahead by one hour in line 12/,
  );
});
test("a clock in 1970 gives relative time only", () => {
  const { log, summary } = logOf(`Unix Time / s,current,c1,c2\n${body([100, 110, 120])}`);
  expect(log.startUnixS).toBeNull();
  expect(summary.remarks.join(" ")).toMatch(/no believable date/);
});

test("the build date comes from whoever hands the file over: hours logged under a year that was never set still count as covered", () => {
  // 30 h dated 2015, then 30 h dated November 2023, one row a minute, the pack resting at 3.7 V.
  const rows = 3600;
  const lines = Array.from({ length: rows }, (_, row) => {
    const unixS = (row < rows / 2 ? in2015 : in2023) + row * 60;
    return `${unixS},0,${3.7 + (row < rows / 2 ? 0 : 0.05)},3.7,7.4`;
  });
  const text = ["Unix Time / s,Current / A,Cell 01 Voltage / V,Cell 02 Voltage / V,Voltage / V", ...lines].join("\n");
  const summaryWith = (builtOn: string | null) => {
    const decoder = createReadingDecoder({ builtOn });
    decoder.push(new TextEncoder().encode(text));
    const read = decoder.end();
    return read.kind === "log" ? { ...read.summary, segments: (read.log.segment.at(-1) ?? 0) + 1 } : null;
  };
  expect(summaryWith(null)?.coverage).toBeLessThan(0.01);
  expect(summaryWith("2022-05-01")).toMatchObject({ coverage: 1, segments: 2, builtUnixS: 1_651_363_200 });
  expect(summaryWith("2022-05-01")?.remarks.join(" ")).toContain("The clock was set in line 1802");
});

test("the date of a works test before the build is kept where the clock runs on from it", () => {
  const lines = Array.from({ length: 200 }, (_, row) => {
    const unixS = in2023 + row * 60 + (row < 100 ? 0 : 100 * 86_400);
    return `${unixS},0,${row < 100 ? 3.7 : 3.9},3.7,7.4`;
  });
  const decoder = createReadingDecoder({ builtOn: "2023-12-14" });
  const text = ["Unix Time / s,Current / A,Cell 01 Voltage / V,Cell 02 Voltage / V,Voltage / V", ...lines].join("\n");
  decoder.push(new TextEncoder().encode(text));
  const read = decoder.end();
  if (read.kind !== "log") throw new Error("no log was read");
  expect(read.log.startUnixS).toBe(in2023);
  expect(read.log.segment.at(-1)).toBe(0);
  expect(read.summary.remarks.join(" ")).not.toMatch(/clock was set|no believable date/);
});

test("a date after the day the file came is not believed, and said; a clock some hours ahead is", () => {
  // 2031-05-01 and 2024-05-01, Unix s.
  const fileOf = (startUnixS: number, receivedUnixS: number | null) => {
    const decoder = createReadingDecoder({ receivedUnixS });
    const rows = Array.from({ length: 30 }, (_, row) => `${startUnixS + 10 * row},-3.0,3.9,3.9,3.9,3.9`);
    const text = `Unix Time / s,Current / A,Cell 01 Voltage / V,Cell 02 Voltage / V,Cell 03 Voltage / V,Cell 04 Voltage / V\n${rows.join("\n")}\n`;
    decoder.push(new TextEncoder().encode(text));
    const read = decoder.end();
    if (read.kind === "unusable") throw new Error(read.sentence);
    return { start: read.log.startUnixS, said: read.summary.remarks.join(" "), last: read.log.timeS.at(-1) };
  };
  const received = 1_714_521_600;
  const ahead = fileOf(1_935_360_000, received);
  expect(ahead).toMatchObject({ start: null, last: 290 });
  expect(ahead.said).toContain("shows 2031-05-01, which had not come when the file was sent");
  expect(fileOf(received + 14 * 3600, received).start).toBe(received + 14 * 3600);
  expect(fileOf(1_935_360_000, null).start).toBe(1_935_360_000);
  // Nobody knows when this one came; its last row lies past the end of 2099, Unix s 4,102,444,800.
  const unknown = fileOf(4_102_444_700, null);
  expect(unknown).toMatchObject({ start: null, last: 290 });
  expect(unknown.said).toContain("shows 2100-01-01");
  expect(unknown.said).not.toContain("when the file was sent");
});
