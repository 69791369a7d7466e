import { expect, test } from "vitest";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import { asRemembered } from "@/lib/readings/column-mapping";
import { columnQuestions } from "@/lib/readings/column-questions";
import { closerOrder, dayOrderOf, readDateTime } from "@/lib/readings/date-time";
import { deniesRemembered, hasDoubts } from "@/lib/readings/reading-doubts";
import { logOf } from "@/tests/support/pack-file";

const asked = "Date Time";
const textOf = (dates: readonly string[], heading = asked) =>
  [`${heading},Voltage / V,Current / A,Cell 1 / V,Cell 2 / V`, ...dates.map((date) => `${date},7.4,1,3.7,3.7`)].join(
    "\n",
  );
const oneDay = textOf(["05/11/2026 10:00:00Z", "05/11/2026 10:00:01Z"]);
const time = (choice: Partial<ColumnChoice>): ColumnChoice => ({
  quantity: "time-of-some-kind",
  number: null,
  unit: null,
  sign: null,
  ...choice,
});
const startOf = (text: string, choice: Partial<ColumnChoice>) => {
  const { startUnixS } = logOf(text, { mapping: { [asked]: time(choice) } }).log;
  return startUnixS === null ? null : new Date(startUnixS * 1000).toISOString();
};

test("dates that do not tell day and month apart are read with no date believed, and asked about", () => {
  const { log, doubts, summary } = logOf(oneDay);
  expect([log.rows, log.startUnixS, [...log.timeS]]).toEqual([2, null, [0, 1]]);
  expect(hasDoubts(doubts)).toBe(true);
  expect(summary.remarks.join(" ")).toContain("no date of the file is believed until somebody says which comes first");
  // One day tells nothing: nothing is proposed, and the question stays open until it is answered.
  expect(columnQuestions(oneDay.split("\n"), undefined, doubts)?.columns[0]).toMatchObject({
    proposal: { dayOrder: null },
    why: "The dates do not tell which number is the day and which the month: say which comes first.",
  });
});

test("what a person says comes first is followed, also for later files, and gives way to dates that tell it", () => {
  expect(startOf(oneDay, { dayOrder: "day-first" })).toBe("2026-11-05T10:00:00.000Z");
  expect(startOf(oneDay, { dayOrder: "month-first" })).toBe("2026-05-11T10:00:00.000Z");
  expect(startOf(textOf(["13/11/2026 10:00:00Z", "13/11/2026 10:00:01Z"]), { dayOrder: "month-first" })).toBe(
    "2026-11-13T10:00:00.000Z",
  );
  const doubtsOf = (choice: Partial<ColumnChoice>) =>
    logOf(oneDay, { mapping: asRemembered({ [asked]: time(choice) }) }).doubts;
  expect(deniesRemembered(doubtsOf({ dayOrder: "day-first" }))).toBe(false);
  // The first file of this header told it by itself: nobody has said it yet.
  expect(deniesRemembered(doubtsOf({}))).toBe(true);
});

test("of days that follow each other, the order that keeps them together is proposed", () => {
  expect(closerOrder(["05/11/2026 10:00", "06/11/2026 10:00"])).toBe("day-first");
  expect(closerOrder(["11/05/2026 10:00", "11/06/2026 10:00"])).toBe("month-first");
  expect(closerOrder(["05/11/2026 10:00", "05/11/2026 11:00"])).toBeNull();
});

test("a column of such dates under a heading nobody knows is asked about in the same way", () => {
  const text = textOf(["05/11/2026 10:00:00", "06/11/2026 10:00:01"], "Moment");
  const questions = columnQuestions(text.split("\n"), undefined, null);
  expect(questions?.columns[0]?.proposal).toEqual(time({ dayOrder: "day-first" }));
  expect(questions?.asksZone).toBe(true);
});

test("a local time without a zone is asked for its zone beside the order", () => {
  const { doubts } = logOf(oneDay.replaceAll("Z,", ","));
  expect([doubts.lacksZone, doubts.openDayOrder?.field]).toEqual([true, 0]);
});

test("a year of two digits after dots and slashes is one of this century", () => {
  expect(dayOrderOf(["20.11.26 10:00:00"])).toBe("day-first");
  expect(readDateTime("20.11.26 10:00:00", "day-first")?.unixS).toBe(Date.UTC(2026, 10, 20, 10) / 1000);
  expect(readDateTime("11/20/26", "month-first")?.unixS).toBe(Date.UTC(2026, 10, 20) / 1000);
  // Between hyphens the year may as well stand first.
  expect(readDateTime("20-11-26", "day-first")).toBeNull();
  const { log } = logOf(textOf(["20.11.26 10:00:00Z", "20.11.26 10:00:02Z"], "Datum Uhrzeit"), {
    mapping: { "Datum Uhrzeit": time({}) },
  });
  expect(log.startUnixS).toBe(Date.UTC(2026, 10, 20, 10) / 1000);
});
