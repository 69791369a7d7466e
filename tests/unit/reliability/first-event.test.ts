import { expect, test } from "vitest";
import { firstEventPerSerial } from "@/lib/reliability/first-event";
import { sumPacks } from "@/lib/reliability/life-cell";
import { tallyLives } from "@/lib/reliability/tally-lives";
import { failedAfter, unitHistory } from "@/tests/support/pack-dates";

test("the same serial twice is one pack, with its earliest confirmed failure", () => {
  const sound = unitHistory("P1");
  const late = unitHistory("P1", { failure: failedAfter(90) });
  const early = unitHistory("P1", { failure: failedAfter(30) });
  const { kept, repeated } = firstEventPerSerial([sound, late, early]);
  expect(kept).toEqual([early]);
  expect(repeated).toEqual([sound, late]);
});

test("a repeated serial is counted as excluded and adds no exposure", () => {
  const { cells, excluded } = tallyLives([unitHistory("P1"), unitHistory("P1"), unitHistory("P2")]);
  expect(sumPacks(cells.filter(({ line }) => line === "confirmed"))).toBe(2);
  expect(excluded).toMatchObject([{ reason: "serial-twice", packs: 1 }]);
});
