import { expect, test } from "vitest";
import { checkReturnDates, type ReturnDates } from "@/lib/returns/check-return-dates";
import { calendarDate as day } from "@/lib/warranty/calendar";

const dates: ReturnDates = {
  builtOn: day("2024-04-22"),
  rootBuiltOn: day("2024-04-22"),
  soldOnStated: day("2024-06-01"),
  noticedOn: day("2026-03-01"),
  toldOn: day("2026-03-05"),
  today: day("2026-03-06"),
};
const fields = (over: Partial<ReturnDates>) => checkReturnDates({ ...dates, ...over }).map(({ field }) => field);

test("dates in order raise nothing, and all may fall on one day", () => {
  expect(fields({})).toEqual([]);
  const one = day("2026-03-06");
  expect(fields({ builtOn: one, rootBuiltOn: one, soldOnStated: one, noticedOn: one, toldOn: one })).toEqual([]);
});

test("each broken order is told at the field to correct", () => {
  expect(fields({ toldOn: day("2026-03-07") })).toEqual(["toldOn"]);
  expect(fields({ noticedOn: day("2026-03-07") })).toEqual(["noticedOn"]);
  expect(fields({ noticedOn: day("2026-03-06") })).toEqual(["noticedOn"]);
  expect(fields({ noticedOn: day("2024-04-21") })).toEqual(["noticedOn"]);
  expect(fields({ soldOnStated: day("2026-03-06") })).toEqual(["soldOnStated"]);
  expect(fields({ soldOnStated: day("2024-04-21") })).toEqual(["soldOnStated"]);
});

test("a fault noticed before the sale is let through, and an unknown build or sale asks for nothing", () => {
  expect(fields({ soldOnStated: day("2026-03-02") })).toEqual([]);
  expect(fields({ builtOn: null, soldOnStated: undefined, noticedOn: day("2001-01-01") })).toEqual([]);
});

test("the sale of a pack that came as a replacement is that of the first pack of its chain", () => {
  const replaced = { builtOn: day("2025-03-01"), rootBuiltOn: day("2023-05-02"), soldOnStated: day("2023-06-10") };
  expect(fields(replaced)).toEqual([]);
  expect(checkReturnDates({ ...dates, ...replaced, soldOnStated: day("2023-05-01") })).toEqual([
    {
      field: "soldOnStated",
      sentence: expect.stringContaining("The first pack, which this one replaces, was built on"),
    },
  ]);
});

test("several mistakes are told together", () => {
  expect(fields({ toldOn: day("2026-04-01"), noticedOn: day("2026-04-02"), soldOnStated: day("2024-01-01") })).toEqual([
    "toldOn",
    "noticedOn",
    "soldOnStated",
  ]);
});
