import { expect, test } from "vitest";
import { momentOfWork } from "@/lib/settlement/day-of-work";

const at = (day: number) => new Date(Date.UTC(2026, 9, day));
const nothing = { takenInAt: at(1), sentAt: null, receivedAt: null, exchangedAt: null, helpedAt: null };
const everything = { takenInAt: at(1), sentAt: at(3), receivedAt: at(6), exchangedAt: at(20), helpedAt: at(2) };
const labour = (operation: string) => ({ kind: "labour", operation });
const freight = { kind: "freight", operation: "" };

test.each([
  [labour("take-in"), at(1)],
  [labour("read-out"), at(1)],
  [labour("remote-fix"), at(2)],
  [labour("pack-for-carrier"), at(3)],
  [labour("exchange"), at(20)],
  [freight, at(3)],
])("%o is paid at the rate of %s", (work, moment) => {
  expect(momentOfWork(work, everything)).toEqual(moment);
});

test("a pack that came in without anybody recording when it set out is of the day it came", () => {
  expect(momentOfWork(freight, { ...nothing, receivedAt: at(6) })).toEqual(at(6));
  expect(momentOfWork(labour("pack-for-carrier"), { ...nothing, receivedAt: at(6) })).toEqual(at(6));
});
