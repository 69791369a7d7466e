import { expect, test } from "vitest";
import { legs, waysThatCanBe } from "@/lib/transport/leg";
import { languagesOnSheet } from "@/lib/transport/who-packs";

const nothing = {
  isHereOrGoesOut: false,
  isHereOrSampled: false,
  isReplaced: false,
  unitComesBack: false,
  declared: [],
} as const;

// Rule of this house, no source: a way is offered where something can travel it, or where a class once was declared for it.
test("a way is offered where a pack can travel it, and what was declared stays to be read", () => {
  expect(waysThatCanBe(nothing)).toEqual(["to-maker"]);
  expect(waysThatCanBe({ ...nothing, isReplaced: true })).toEqual(["to-maker", "to-dealer"]);
  expect(waysThatCanBe({ ...nothing, isHereOrGoesOut: true, isHereOrSampled: true })).toEqual([
    "to-maker",
    "to-dealer",
    "to-supplier",
  ]);
  expect(waysThatCanBe({ ...nothing, isReplaced: true, unitComesBack: true })).toEqual([
    "to-maker",
    "to-dealer",
    "unit-to-maker",
  ]);
  expect(waysThatCanBe({ ...nothing, declared: ["to-supplier", "unit-to-maker"] })).toEqual([
    "to-maker",
    "unit-to-maker",
    "to-supplier",
  ]);
});

test("a small sheet speaks the language of whoever packs: the dealer on the ways in, the bench on the ways out", () => {
  expect(legs.map((leg) => [leg, languagesOnSheet(leg, true)])).toEqual([
    ["to-maker", "dealers-alone"],
    ["to-dealer", "english-alone"],
    ["unit-to-maker", "dealers-alone"],
    ["to-supplier", "english-alone"],
  ]);
  for (const leg of legs) expect(languagesOnSheet(leg, false)).toBe("both");
});
