import { expect, test } from "vitest";
import { coverAtAGlance, safetyAtAGlance } from "@/lib/returns/at-a-glance";
import { calendarDate } from "@/lib/warranty/calendar";

const here = { danger: "none", isJudged: false, decidedRemedy: null, place: "with-dealer" } as const;

test("a dealer reads first whether the pack is dangerous, and no missing sign is called safe", () => {
  expect(safetyAtAGlance({ ...here, danger: "keep-away" })).toEqual({
    words: "No: keep everybody away from it",
    tone: "danger",
  });
  expect(safetyAtAGlance({ ...here, danger: "set-apart" }).tone).toBe("danger");
  expect(safetyAtAGlance(here).words).not.toMatch(/safe/i);
  expect(safetyAtAGlance(here).words).toMatch(/Do not charge or ride it/);
});

test("a danger outweighs where the pack lies, and only a judged pack is given back to use", () => {
  expect(safetyAtAGlance({ ...here, danger: "set-apart", place: "bench" }).tone).toBe("danger");
  expect(safetyAtAGlance({ ...here, place: "bench" }).words).toBe("The maker has it");
  expect(safetyAtAGlance({ ...here, isJudged: true, decidedRemedy: "repair" }).tone).toBe("good");
});

test("cover is told with its last day, by the maker's guarantee alone", () => {
  const endsOn = calendarDate("2028-04-04");
  expect(coverAtAGlance({ outcome: "in-cover", endsOn }).words).toBe("Yes, until 4 April 2028");
  expect(coverAtAGlance({ outcome: "outside-makers-guarantee", endsOn })).toEqual({
    words: "No, it ended on 4 April 2028",
    tone: "warn",
  });
  expect(coverAtAGlance({ outcome: "cannot-tell-yet", endsOn: null }).words).toBe("Cannot be told yet");
});

test.each(["replace", "refund", "dispose", "isolate"])(
  "a pack that another stands in for, or that nobody gives back, is never called judged for use (%s)",
  (decidedRemedy) => {
    const old = safetyAtAGlance({ ...here, isJudged: true, decidedRemedy });
    expect(old.tone).not.toBe("good");
    expect(old.words).toMatch(/Keep it set apart/);
    expect(safetyAtAGlance({ ...here, isJudged: true, decidedRemedy, place: "store" }).words).toBe("The maker has it");
  },
);
