import { expect, test } from "vitest";
import { judgedDangers, type PackStep, toldSince } from "@/lib/returns/told-since";

const day = (count: number) => new Date(Date.UTC(2026, 9, count));
const flag = (at: number, facts: unknown, to = "isolate"): PackStep => ({
  track: "safety",
  from: "normal",
  to,
  at: day(at),
  facts,
});
const place = (at: number, from: string, to: string): PackStep => ({
  track: "custody",
  from,
  to,
  at: day(at),
  facts: {},
});

test("what was told in words counts until the house gives the pack back; forms, goods-in and alarms are not in it", () => {
  const fell = flag(1, { told: true, flags: ["smoke", "a word of a later version"] });
  expect(toldSince([fell])).toEqual([{ at: day(1), flags: [] }]);
  expect(toldSince([flag(1, { told: true, flags: ["smoke"] })])).toEqual([{ at: day(1), flags: ["smoke"] }]);
  expect(toldSince([flag(1, {}), flag(2, { signs: ["swollen"] }), flag(3, null)])).toEqual([]);
  expect(toldSince([flag(1, { signs: ["impact-or-water"] })])).toHaveLength(1);
  // On the way to us nothing is forgotten; repaired and handed back, or come to the dealer from us, it is.
  expect(
    toldSince([fell, place(2, "with-dealer", "with-carrier-in"), place(3, "with-carrier-in", "quarantine")]),
  ).toHaveLength(1);
  expect(toldSince([fell, place(2, "with-carrier-in", "with-dealer")])).toHaveLength(1);
  expect(toldSince([fell, place(2, "workshop", "with-dealer")])).toEqual([]);
  expect(toldSince([fell, place(2, "with-carrier-out", "with-dealer"), flag(3, { told: true })])).toHaveLength(1);
});

test("judged, an event stays a sign of damage and words alone were nothing, unless the flag says to take care", () => {
  const words = { at: day(1), flags: [] };
  const event = { at: day(2), flags: ["smoke", "leak"] } as const;
  expect(judgedDangers([words], false)).toEqual([]);
  expect(judgedDangers([words], true)).toEqual(["It is marked to be handled with care."]);
  expect(judgedDangers([words, event, event], false)).toEqual([
    "Told since: smoke or vapour; something leaked. Look at each criterion anew.",
  ]);
});
