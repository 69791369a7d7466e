import { expect, test } from "vitest";
import { makeSerial } from "@/lib/packs/serial";
import { calendarDate } from "@/lib/warranty/calendar";
import { readDistributorTable, whyNotSoldThen } from "@/lib/warranty/distributor-sales";

const serial = (sequence: number) => makeSerial({ model: "QP", buildYear: 2024, buildWeek: 2, sequence });

test("a table of a distributor's sales is read whatever parts its columns, and in any order", () => {
  const rows = [{ line: 2, serial: serial(1), soldOn: "2024-03-05" }];
  expect(readDistributorTable(`serial,sold on\n${serial(1)},2024-03-05\n`)).toEqual({ kind: "rows", rows });
  expect(readDistributorTable(`Sold On;Serial\r\n2024-03-05;${serial(1)}\r\n\r\n`)).toEqual({ kind: "rows", rows });
  expect(readDistributorTable(`serial\tsold on\n${serial(1)}\t2024-03-05`)).toEqual({ kind: "rows", rows });
});

test("one line that cannot be read refuses the whole, and says where", () => {
  const head = "serial,sold on";
  const of = (lines: string) => {
    const read = readDistributorTable(`${head}\n${lines}`);
    return read.kind === "refused" ? read.problems.map(({ line }) => line) : [];
  };
  expect(of(`${serial(1)},2024-03-05\nQP-1,2024-03-05\n${serial(2)},5.3.2024`)).toEqual([3, 4]);
  expect(of(`${serial(1)},2024-02-30`)).toEqual([2]);
  expect(of(`${serial(1)},2024-03-05\n${serial(1)},2024-03-06`)).toEqual([3]);
  expect(readDistributorTable("number,day\n1,2")).toMatchObject({ kind: "refused", problems: [{ line: 1 }] });
  expect(readDistributorTable("")).toMatchObject({ kind: "refused" });
});

test("a sale before the build, before the dispatch or still to come cannot be so", () => {
  const day = calendarDate;
  const pack = { builtOn: day("2024-01-10"), dispatchedOn: day("2024-01-20") };
  const today = day("2026-10-05");
  expect(whyNotSoldThen(pack, day("2024-01-20"), today)).toBeNull();
  expect(whyNotSoldThen(pack, day("2024-01-19"), today)).toMatch(/left the maker/);
  expect(whyNotSoldThen({ ...pack, dispatchedOn: null }, day("2024-01-09"), today)).toMatch(/built on/);
  expect(whyNotSoldThen(pack, day("2026-10-06"), today)).toMatch(/still to come/);
  expect(whyNotSoldThen(null, day("2024-01-20"), today)).toMatch(/No pack/);
});
