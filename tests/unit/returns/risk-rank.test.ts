import fc from "fast-check";
import { expect, test } from "vitest";
import type { SafetyClass } from "@/lib/diagnosis/finding";
import { riskRank, riskRankUnderFlag } from "@/lib/returns/risk-rank";

const safetyClass = fc.constantFrom<SafetyClass>("A0", "A1", "B", "U", "C");

test("a pack one must keep away from comes before any finding", () => {
  fc.assert(fc.property(fc.array(safetyClass), (found) => riskRank("keep-away", []) > riskRank("none", found)));
});

test("no readable file ranks as a pack that cannot be diagnosed, above one without a fault", () => {
  expect(riskRank("none", [])).toBe(riskRank("none", ["U"]));
  expect(riskRank("none", [])).toBeGreaterThan(riskRank("none", ["C"]));
});

test("a further finding never lowers the rank", () => {
  fc.assert(
    fc.property(fc.array(safetyClass, { minLength: 1 }), safetyClass, (found, more) => {
      expect(riskRank("none", [...found, more])).toBeGreaterThanOrEqual(riskRank("none", found));
    }),
  );
});

test("a raised flag ranks above anything known at lodging; lowered, what was known then counts again", () => {
  const highest = riskRank("keep-away", ["A0"]);
  expect(riskRankUnderFlag({ from: "normal", to: "isolate" }, highest)).toBeGreaterThan(highest);
  expect(riskRankUnderFlag({ from: "isolate", to: "do-not-move" }, highest)).toBeGreaterThan(
    riskRankUnderFlag({ from: "normal", to: "isolate" }, highest),
  );
  expect(riskRankUnderFlag({ from: "do-not-move", to: "isolate" }, 10)).toBe(riskRank("set-apart", ["C"]));
  expect(riskRankUnderFlag({ from: "isolate", to: "normal" }, 10)).toBe(10);
  expect(riskRankUnderFlag({ from: "normal", to: "caution" }, 10)).toBe(10);
});
