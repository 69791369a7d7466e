import { expect, test } from "vitest";
import { type SignalledGroup, signalsBesideSentence, sinceSentence } from "@/lib/reliability/since-sentences";
import { calendarDate as day } from "@/lib/warranty/calendar";

const signal = (group: string, over: Partial<SignalledGroup> = {}): SignalledGroup => ({
  by: "revision",
  group,
  firstOn: day("2026-08-03"),
  byRulesOfToday: true,
  ...over,
});

test("what got worse is told with the day since which it is built and that of its first early signal", () => {
  expect(sinceSentence(day("2026-03-01"), signal("GW-C"))).toBe(
    "Built since 1 March 2026; the first early signal of it was kept on 3 August 2026.",
  );
  expect(sinceSentence(null, null)).toBe("No early signal of it was kept.");
});

test("signals of what does not stand out are named beside it, so that no signal is hidden behind nothing found", () => {
  const leading = [{ by: "revision" as const, effect: { group: "GW-C" } }];
  expect(signalsBesideSentence([signal("GW-C")], leading)).toBe("");
  expect(signalsBesideSentence([signal("GW-C"), signal("D07", { by: "dealer" })], leading)).toContain(
    "dealer D07 (3 August 2026). A signal says where to look",
  );
  expect(signalsBesideSentence([signal("GW-A", { byRulesOfToday: false })], leading)).toBe("");
  expect(
    signalsBesideSentence(
      "ABCDEFG".split("").map((group) => signal(group)),
      [],
    ),
  ).toContain(" and 2 more.");
});
