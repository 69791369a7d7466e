import { expect, test } from "vitest";
import { type UnitWatch, whyUnitStays } from "@/lib/receiving/unit-back";

const since = new Date("2026-10-05T09:00:00Z");
const after = (hours: number) => new Date(since.getTime() + hours * 3_600_000);
const cool = { surfaceC: 20, ambientC: 20, terminalV: 54, noVoltageBecause: null };
const came = { boxCondition: "sound", sign: "none-of-these", ...cool } as const;
const watch = (over: Partial<UnitWatch> = {}): UnitWatch => ({
  ...{ since, came, measured: cool, wasToldSince: false, isSetApart: false },
  ...over,
});

// reference/diagnostics.md 3.6 [D]: 24 hours, and 72 after immersion or impact.
test("a replacement that came back lies a day, and three after a blow, water, or a danger told in words", () => {
  expect(whyUnitStays(watch(), after(23))).toMatchObject({
    kind: "stays",
    sentence: expect.stringMatching(/an hour is/),
  });
  expect(whyUnitStays(watch(), after(24))).toBeNull();
  for (const longer of [
    { came: { ...came, boxCondition: "wet" } },
    { came: { ...came, sign: "case-broken" } },
    { wasToldSince: true },
  ] as const) {
    expect(whyUnitStays(watch(longer), after(71)), JSON.stringify(longer)).toMatchObject({ kind: "stays" });
    expect(whyUnitStays(watch(longer), after(72)), JSON.stringify(longer)).toBeNull();
  }
});

test("it stays however long it lay where it is set apart, warmed up or lost voltage", () => {
  expect(whyUnitStays(watch({ isSetApart: true }), after(100))).toMatchObject({ kind: "stays" });
  for (const measured of [
    { ...cool, surfaceC: 23.5 },
    { ...cool, terminalV: 53 },
  ])
    expect(whyUnitStays(watch({ measured }), after(100))).toMatchObject({ kind: "alarm" });
  // In rows from before it was asked nobody knows how it came; the newest measurement still counts.
  expect(whyUnitStays(watch({ came: null }), after(24))).toBeNull();
  expect(whyUnitStays(watch({ came: null, measured: { ...cool, surfaceC: 24 } }), after(24))).toMatchObject({
    kind: "alarm",
  });
});
