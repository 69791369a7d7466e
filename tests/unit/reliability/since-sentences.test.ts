import { expect, test } from "vitest";
import { notExcluded, nothingSentence } from "@/lib/reliability/not-excluded";
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
  const since = { first: day("2026-03-01"), last: null };
  expect(sinceSentence(since, signal("GW-C"), day("2026-01-05"))).toBe(
    "Built since 1 March 2026; the first early signal of it was kept on 3 August 2026.",
  );
  const lot = { first: day("2026-03-01"), last: day("2026-03-09") };
  expect(sinceSentence(lot, signal("7B"), null)).toMatch(/^Built from 1 March 2026 to 9 March 2026; /);
});

test("no signal is told with the day since which there are any, and with how seldom one comes", () => {
  // As measured (signal-measurements.ts).
  expect(sinceSentence(null, null, day("2026-01-05"))).toBe(
    "Early signals are kept since 5 January 2026 and none is of it, which says little: a group that fails 2 times as often gave one in only 20 of 120 made-up fleets.",
  );
  expect(sinceSentence(null, null, null)).toBe("Early signals are not kept yet: nobody has looked for one so far.");
});

test("nothing found is told with how much worse what is built today may still be", () => {
  const ratio = {
    kind: "estimate",
    ratio: 1.2,
    lower: 0.4,
    upper: 3.14,
    standardErrorLog: 1,
    failures: 3,
    otherFailures: 40,
  } as const;
  const about = {
    observed: 3,
    expected: 2.5,
    alone: 0,
    comparedAges: null,
    strata: ["M"],
    p: 0.7,
    adjustedP: 1,
    holds: null,
    doubtedP: null,
  };
  const open = notExcluded(["GW-C", "TF-B"], [{ ...about, group: "GW-C", ratio }]);
  expect(nothingSentence(61, open)).toBe(
    "Nothing is shown to have got worse: of none of the 61 revisions, lots and dealers looked at can it be told that it fails more than the others of its model. That is no all-clear. Of what is built today: GW-C may fail up to 3.1 times as often as the others of its model; how often TF-B fails is not limited at all yet (upper 95 % limits).",
  );
  expect(nothingSentence(0, open)).toMatch(/^It cannot be told yet/);
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
