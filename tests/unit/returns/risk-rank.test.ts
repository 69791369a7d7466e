import fc from "fast-check";
import { expect, test } from "vitest";
import type { SafetyClass } from "@/lib/diagnosis/finding";
import { queueRisk } from "@/lib/returns/queue-risk";
import { riskRank, riskRankUnderFlag } from "@/lib/returns/risk-rank";
import { safetyStates } from "@/lib/returns/safety-track";

const safetyClass = fc.constantFrom<SafetyClass>("A0", "A1", "B", "U", "C");

test("a pack one must keep away from comes before any finding", () => {
  fc.assert(
    fc.property(fc.array(safetyClass), (found) => riskRank("keep-away", [], null) > riskRank("none", found, null)),
  );
});

test("no readable file ranks as a pack that cannot be diagnosed, above one without a fault", () => {
  expect(riskRank("none", [], null)).toBe(riskRank("none", ["U"], null));
  expect(riskRank("none", [], null)).toBeGreaterThan(riskRank("none", ["C"], null));
});

test("a further finding never lowers the rank", () => {
  fc.assert(
    fc.property(fc.array(safetyClass, { minLength: 1 }), safetyClass, (found, more) => {
      expect(riskRank("none", [...found, more], null)).toBeGreaterThanOrEqual(riskRank("none", found, null));
    }),
  );
});

test("a pack nobody may move any more comes before anything known at lodging; lowered, what was known then counts again", () => {
  const highest = riskRank("keep-away", ["A0"], null);
  expect(riskRankUnderFlag({ from: "isolate", to: "do-not-move" }, highest)).toBeGreaterThan(highest);
  expect(riskRankUnderFlag({ from: "normal", to: "incident-open" }, highest)).toBeGreaterThan(highest);
  const setApart = riskRankUnderFlag({ from: "do-not-move", to: "isolate" }, 10);
  expect(setApart).toBeLessThan(riskRank("set-apart", ["C"], null));
  expect(setApart).toBeGreaterThan(riskRank("none", ["A1"], null));
  expect(riskRankUnderFlag({ from: "isolate", to: "normal" }, 10)).toBe(10);
  expect(riskRankUnderFlag({ from: "normal", to: "caution" }, 10)).toBe(10);
});

test("a pack set apart since it was lodged comes before signs told that are over, and after what is going on now", () => {
  const setApart = riskRankUnderFlag({ from: "normal", to: "isolate" }, riskRank("none", ["C"], null));
  expect(setApart).toBeGreaterThan(riskRank("set-apart", ["A1"], "isolate"));
  expect(setApart).toBeLessThan(riskRank("keep-away", [], null));
  expect(setApart).toBeLessThan(riskRank("none", ["A0"], null));
});

test("no flag ranks a return lower than what was known at lodging", () => {
  const state = fc.constantFrom(...safetyStates);
  fc.assert(
    fc.property(state, state, fc.constantFrom(10, 40, 80, 90, 100), (from, to, atLodging) => {
      expect(riskRankUnderFlag({ from, to }, atLodging)).toBeGreaterThanOrEqual(atLodging);
    }),
  );
});

test("the order of the queue and its words come from one judgement, the suggested remedy included", () => {
  // Signs of something going on now, signs seen and over, none: as the form asks them.
  const signsOf = { "keep-away": ["hot"], "set-apart": ["swollen"], none: [] } as const;
  const remedy = fc.constantFrom(null, "repair", "isolate", "cannot-tell", "return-as-is");
  const known = fc.record({
    danger: fc.constantFrom("keep-away", "set-apart", "none"),
    found: fc.array(safetyClass),
    remedy,
  });
  const order: string[] = [
    "Danger signs, going on now",
    "Danger now",
    "Danger signs told",
    "Critical, in quarantine",
    "Damaged or defective",
    "Cannot be judged yet",
    "Not classed as damaged",
  ];
  const placeOf = (one: { danger: "keep-away" | "set-apart" | "none"; found: SafetyClass[]; remedy: string | null }) =>
    order.indexOf(queueRisk(signsOf[one.danger], one.found, "normal", one.remedy).words);
  fc.assert(
    fc.property(known, known, (one, other) => {
      const ranks = [one, other].map(({ danger, found, remedy: wanted }) => riskRank(danger, found, wanted));
      expect(Math.sign((ranks[1] ?? 0) - (ranks[0] ?? 0))).toBe(Math.sign(placeOf(one) - placeOf(other)));
    }),
  );
  expect(riskRank("none", ["C"], "cannot-tell")).toBe(riskRank("none", ["U"], null));
  expect(riskRank("none", ["B"], "isolate")).toBe(riskRank("none", ["A1"], null));
});
