import { expect, test } from "vitest";
import { stayWithMaker } from "@/lib/warranty/absences";
import { calendarDate as day } from "@/lib/warranty/calendar";

// Common practice, no source: the clock stands still until the customer has it back, not until somebody decided.
test("the time with the maker ends when the pack is handed back, and with the decision only where nothing tells when", () => {
  const lodgedOn = day("2026-03-01");
  const decided = { remedy: "repair", decidedOn: day("2026-03-11") };
  expect(stayWithMaker({ lodgedOn, decided, handedBackOn: day("2026-03-29") })).toEqual([
    { handedOverOn: lodgedOn, backOn: "2026-03-29" },
  ]);
  expect(stayWithMaker({ lodgedOn, decided, handedBackOn: null })).toEqual([
    { handedOverOn: lodgedOn, backOn: "2026-03-11" },
  ]);
  expect(stayWithMaker({ lodgedOn, decided: null, handedBackOn: null })).toEqual([]);
  expect(stayWithMaker({ lodgedOn, decided: { ...decided, remedy: "remote-fix" }, handedBackOn: null })).toEqual([]);
});
