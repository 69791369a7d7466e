import fc from "fast-check";
import { expect, test } from "vitest";
import type { SafetyClass } from "@/lib/diagnosis/finding";
import { riskRank } from "@/lib/returns/risk-rank";

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
