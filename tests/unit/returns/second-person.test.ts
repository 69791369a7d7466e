import { expect, test } from "vitest";
import type { Decision } from "@/lib/returns/decision.schema";
import type { GivenBefore } from "@/lib/returns/given-before";
import { settingsOn } from "@/lib/returns/return-settings.schema";
import { whyNotSolvedByOne, whySecondPerson } from "@/lib/returns/second-person";
import { repair, settings } from "./any-standing";

const nothingGiven: GivenBefore = { moneyIn: null, unitSerial: null };

const covered = (suggested: string | null) => ({
  suggested,
  suggestedBefore: [],
  cover: "in-cover" as const,
  choice: null,
  given: nothingGiven,
});

const refund = (refundMinor: number, refundCurrency = "EUR"): Decision => ({
  ...repair,
  remedy: "refund",
  refundMinor,
  refundCurrency,
});

// Four eyes for refusals, goodwill and money: common practice, no single source.
test("a refund needs a second person above the limit, not at it, and always in another currency", () => {
  expect(whySecondPerson(refund(50_000), covered(null), settings)).toEqual([]);
  expect(whySecondPerson(refund(50_001), covered(null), settings)).toEqual(["refund-above-limit"]);
  expect(whySecondPerson(refund(1, "USD"), covered(null), settings)).toEqual(["refund-above-limit"]);
});

test("a refusal, goodwill and a decision against the readings need one; each says why", () => {
  expect(whySecondPerson({ ...repair, remedy: "refuse" }, covered("refuse"), settings)).toEqual(["refusal"]);
  expect(whySecondPerson({ ...repair, isGoodwill: true }, covered("repair"), settings)).toEqual(["goodwill"]);
  expect(whySecondPerson(repair, covered("replace"), settings)).toEqual(["against-the-suggestion"]);
  expect(whySecondPerson({ ...repair, remedy: "refuse", isGoodwill: true }, covered("repair"), settings)).toEqual([
    "refusal",
    "goodwill",
    "against-the-suggestion",
  ]);
});

test.each([
  ["outside-makers-guarantee", ["beyond-the-guarantee"]],
  ["cannot-tell-yet", ["beyond-the-guarantee"]],
  ["in-cover-by-grace", []],
  ["covered-by-field-action", []],
] as const)("a free repair of a pack %s needs %j, called goodwill or not", (cover, why) => {
  for (const remedy of ["repair", "replace"] as const)
    expect(whySecondPerson({ ...repair, remedy }, { ...covered(null), cover }, settings)).toEqual(why);
  const asIs = { ...repair, remedy: "return-as-is", confirmedFault: "no-fault-found" } as const;
  expect(whySecondPerson(asIs, { ...covered(null), cover }, settings)).toEqual([]);
});

// A refusal is not avoided by another word for it.
test.each([
  ["return-as-is", "outside-cause", ["refusal"]],
  ["return-as-is", "unknown", ["refusal"]],
  ["return-as-is", "no-fault-found", []],
  ["dispose", "mechanical-damage", ["refusal"]],
  ["redirect", "outside-cause", ["refusal"]],
  ["redirect", "weak-cell", ["refusal"]],
] as const)("%s with %s as what was found, in cover, needs %j", (remedy, confirmedFault, why) => {
  expect(whySecondPerson({ ...repair, remedy, confirmedFault }, covered(null), settings)).toEqual(why);
});

// Common practice, no source: nobody alone leaves a customer with money and a pack, or with two packs.
test.each([
  ["replace", { moneyIn: "EUR", unitSerial: null }, true],
  ["repair", { moneyIn: "EUR", unitSerial: null }, true],
  ["return-as-is", { moneyIn: "EUR", unitSerial: null }, true],
  ["refund", { moneyIn: "EUR", unitSerial: null }, false],
  ["refund", { moneyIn: null, unitSerial: "QP2402000025" }, true],
  ["replace", { moneyIn: null, unitSerial: "QP2402000025" }, true],
  ["dispose", { moneyIn: "EUR", unitSerial: "QP2402000025" }, false],
  ["isolate", { moneyIn: "EUR", unitSerial: "QP2402000025" }, false],
  ["replace", nothingGiven, false],
] as const)("%s after %j needs a second person: %j", (remedy, given, needs) => {
  const why = whySecondPerson({ ...refund(1), remedy }, { ...covered(null), given }, settings);
  expect(why.includes("given-before")).toBe(needs);
});

// Directive (EU) 2019/771, Art. 13(2): the choice is the consumer's.
test.each([
  ["repair", "replace", true],
  ["repair", "refund", true],
  ["repair", "repair", false],
  ["repair", "remote-fix", false],
  ["replacement", "repair", true],
  ["refurbished", "replace", false],
  ["no-choice", "replace", false],
  [null, "replace", false],
] as const)("where the customer chose %s, %s needs a second person: %j", (choice, remedy, needs) => {
  const why = whySecondPerson({ ...refund(1), remedy }, { ...covered(null), choice }, settings);
  expect(why.includes("against-the-choice")).toBe(needs);
});

// Rule of this house: a sound log that came later takes nothing back.
test.each([
  ["return-as-is", "repair", true],
  ["repair", "isolate", true],
  ["repair", "replace", true],
  ["replace", "repair", false],
  ["repair", "repair", false],
  ["repair", "cannot-tell", false],
  ["dispose", "isolate", false],
  ["isolate", "replace", false],
] as const)(
  "%s, where readings before the newest suggested %s, needs a second person: %j",
  (remedy, earlier, needs) => {
    const weighed = { ...covered(remedy), suggestedBefore: [earlier] };
    const why = whySecondPerson({ ...repair, remedy, confirmedFault: "no-fault-found" }, weighed, settings);
    expect(why.includes("against-earlier-readings")).toBe(needs);
  },
);

test("one is enough with the readings, without any, where they cannot tell, and for setting apart", () => {
  for (const suggested of ["repair", null, "cannot-tell"])
    expect(whySecondPerson(repair, covered(suggested), settings)).toEqual([]);
  expect(whySecondPerson({ ...repair, remedy: "isolate" }, covered("repair"), settings)).toEqual([]);
});

test("the setting of the day counts, and none is invented before the first", () => {
  const dated = [
    { ...settings, version: "b", validFrom: "2026-06-01" },
    { ...settings, version: "a", validFrom: "2026-01-01" },
  ];
  expect(settingsOn(dated, "2026-05-31").version).toBe("a");
  expect(settingsOn(dated, "2026-06-01").version).toBe("b");
  expect(() => settingsOn(dated, "2025-12-31")).toThrow(RangeError);
});

test("help from a distance is the end by one person only where a proposal of it would need one, or the readings suggest less", () => {
  const solved: Decision = { ...repair, remedy: "remote-fix" };
  const why = (
    over: { readonly given?: GivenBefore; readonly choice?: "replacement" },
    suggested: string | null = null,
  ) => whyNotSolvedByOne(solved, { ...covered(suggested), ...over }, settings);
  for (const suggested of [null, "cannot-tell", "remote-fix", "return-as-is"]) expect(why({}, suggested)).toEqual([]);
  for (const suggested of ["repair", "replace", "isolate"])
    expect(why({}, suggested)).toEqual(["against-the-suggestion"]);
  expect(why({ given: { moneyIn: "EUR", unitSerial: null } }, "return-as-is")).toEqual(
    whySecondPerson(solved, { ...covered(null), given: { moneyIn: "EUR", unitSerial: null } }, settings),
  );
  expect(why({ choice: "replacement" })).toEqual(["against-the-choice"]);
});
