import { expect, test } from "vitest";
import type { Decision } from "@/lib/returns/decision.schema";
import { settingsOn } from "@/lib/returns/return-settings.schema";
import { whySecondPerson } from "@/lib/returns/second-person";
import { repair, settings } from "./any-standing";

const refund = (refundMinor: number, refundCurrency = "EUR"): Decision => ({
  ...repair,
  remedy: "refund",
  refundMinor,
  refundCurrency,
});

// Four eyes for refusals, goodwill and money: common practice, no single source.
test("a refund needs a second person above the limit, not at it, and always in another currency", () => {
  expect(whySecondPerson(refund(50_000), null, settings)).toEqual([]);
  expect(whySecondPerson(refund(50_001), null, settings)).toEqual(["refund-above-limit"]);
  expect(whySecondPerson(refund(1, "USD"), null, settings)).toEqual(["refund-above-limit"]);
});

test("a refusal, goodwill and a decision against the readings need one; each says why", () => {
  expect(whySecondPerson({ ...repair, remedy: "refuse" }, "refuse", settings)).toEqual(["refusal"]);
  expect(whySecondPerson({ ...repair, isGoodwill: true }, "repair", settings)).toEqual(["goodwill"]);
  expect(whySecondPerson(repair, "replace", settings)).toEqual(["against-the-suggestion"]);
  expect(whySecondPerson({ ...repair, remedy: "refuse", isGoodwill: true }, "repair", settings)).toEqual([
    "refusal",
    "goodwill",
    "against-the-suggestion",
  ]);
});

test("one is enough with the readings, without any, where they cannot tell, and for setting apart", () => {
  for (const suggested of ["repair", null, "cannot-tell"])
    expect(whySecondPerson(repair, suggested, settings)).toEqual([]);
  expect(whySecondPerson({ ...repair, remedy: "isolate" }, "repair", settings)).toEqual([]);
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
