import fc from "fast-check";
import { expect, test } from "vitest";
import { answerCoverCase } from "@/lib/warranty/cover-case";

const sold = { soldOn: "2024-02-29", toldOn: "2026-02-28", months: 24 };
const refusal = (over: Record<string, unknown>) => {
  const answer = answerCoverCase({ ...sold, ...over });
  return "refused" in answer ? answer.refused : `covered ${answer.covered}`;
};

test("a case with the least given is answered with the defaults", () => {
  expect(answerCoverCase(sold)).toMatchObject({
    startsOn: "2024-02-29",
    endsOn: "2026-02-28",
    toldOn: "2026-02-28",
    covered: true,
  });
  expect(answerCoverCase({ ...sold, toldOn: "2026-03-01" })).toMatchObject({ covered: false });
  expect(answerCoverCase({ ...sold, toldOn: "2026-03-01", leapDay: "march-1" })).toMatchObject({ covered: true });
  expect(answerCoverCase({ ...sold, toldOn: "2026-03-01", graceDays: 1 })).toMatchObject({
    covered: true,
    endsOn: "2026-02-28",
  });
});

test("null means not given", () => {
  expect(
    answerCoverCase({ ...sold, zone: null, toldAt: null, graceDays: null, replacements: null, minimumDays: null }),
  ).toMatchObject({ covered: true });
});

test("replacements without a rule keep the remainder", () => {
  expect(answerCoverCase({ ...sold, replacements: [{ deliveredOn: "2026-02-20" }] })).toMatchObject({
    endsOn: "2026-02-28",
  });
});

test("the day told is that of the place of sale", () => {
  const at = (zone: string) =>
    answerCoverCase({ soldOn: "2024-02-29", months: 24, toldAt: "2026-02-28T23:30:00Z", zone });
  expect(at("Europe/London")).toMatchObject({ toldOn: "2026-02-28", covered: true });
  expect(at("Europe/Berlin")).toMatchObject({ toldOn: "2026-03-01", covered: false });
});

test.for([
  ["a sale on a day that does not exist", { soldOn: "2025-02-30" }, /^soldOn: 2025-02-30/],
  ["a told day that does not exist", { toldOn: "2026-02-29" }, /^toldOn: 2026-02-29/],
  ["an unknown zone", { zone: "Mars/Base" }, /^zone: /],
  ["an instant without an offset", { toldOn: null, toldAt: "2026-02-28T22:30:00", zone: "Europe/Berlin" }, /^toldAt: /],
  ["an instant on no calendar", { toldOn: null, toldAt: "0001-01-01T00:00:00Z", zone: "Europe/Berlin" }, /^toldAt: /],
  ["an instant without a zone", { toldOn: null, toldAt: "2026-02-28T22:30:00Z" }, /^zone: needed/],
  ["neither day nor instant told", { toldOn: null }, /^toldOn or toldAt/],
  ["a day and an instant that differ", { toldAt: "2026-03-05T12:00:00Z", zone: "Europe/Berlin" }, /different days/],
  ["no months", { months: undefined }, /^months: /],
  ["a part of a month", { months: 1.5 }, /^months: /],
  ["no time at all", { months: 0 }, /^months: /],
  ["negative grace", { graceDays: -1 }, /^graceDays: /],
  ["an unknown leap rule", { leapDay: "march-2" }, /^leapDay: /],
  ["a replacement on no day", { replacements: [{ deliveredOn: "2026-13-01" }] }, /^deliveredOn: /],
  ["neither sale nor dispatch", { soldOn: null }, /Neither a sale nor a dispatch is known/],
  ["a dispatch without a limit", { soldOn: null, dispatchedOn: "2024-01-01" }, /no limit to stock age/],
  ["told before the sale", { toldOn: "2024-02-28" }, /one of the two days is wrong/],
] as const)("%s is refused in a sentence", ([, over, sentence]) => {
  expect(refusal(over)).toMatch(sentence);
});

test("the rule minimum without its days adds none: the first pack's end stays", () => {
  const given = { ...sold, soldOn: "2024-03-15", toldOn: "2026-03-01", replacements: [{ deliveredOn: "2026-02-20" }] };
  expect(answerCoverCase({ ...given, replacementRule: "minimum" })).toMatchObject({ endsOn: "2026-03-15" });
});

test("without a sale the window from dispatch is printed, and its reasons say whom it binds", () => {
  const given = { dispatchedOn: "2023-11-02", stockAgeCapMonths: 12, months: 24 };
  expect(answerCoverCase({ ...given, toldOn: "2026-11-02" })).toMatchObject({
    startsOn: "2024-11-02",
    endsOn: "2026-11-02",
    covered: true,
  });
  const late = answerCoverCase({ ...given, toldOn: "2026-11-03" });
  expect(late).toMatchObject({ startsOn: "2024-11-02", endsOn: "2026-11-02", covered: false });
  expect(JSON.stringify(late)).toMatch(/must not be used to refuse a consumer/);
});

test("a last day on a Saturday lasts until Monday where the case says so", () => {
  const given = { soldOn: "2024-03-14", toldOn: "2026-03-16", months: 24 };
  expect(answerCoverCase(given)).toMatchObject({ covered: false, endsOn: "2026-03-14" });
  expect(answerCoverCase({ ...given, weekendEnd: "next-working-day" })).toMatchObject({
    covered: true,
    endsOn: "2026-03-14",
    graceEndsOn: "2026-03-16",
  });
});

const link = (oldSerial: string, newSerial: string, deliveredOn: string) => ({ oldSerial, newSerial, deliveredOn });

test.for([
  ["a loop", [link("A", "B", "2025-01-01"), link("B", "A", "2025-02-01")], /leads back/],
  ["a pack replaced by itself", [link("A", "A", "2025-01-01")], /leads back/],
  ["a pack replaced twice", [link("A", "B", "2025-01-01"), link("A", "C", "2025-02-01")], /A is replaced twice/],
  ["a pack that comes twice", [link("A", "C", "2025-01-01"), link("B", "C", "2025-02-01")], /C comes twice/],
  ["links of two packs", [link("A", "B", "2025-01-01"), link("C", "D", "2025-02-01")], /A and C begin chains/],
  ["days that fall along the chain", [link("A", "B", "2025-02-01"), link("B", "C", "2025-01-01")], /went on/],
  [
    "a pack in service",
    [{ ...link("A", "B", "2025-02-01"), newInServiceSince: "2024-12-01" }],
    /in service since 1 December 2024/,
  ],
  ["a replacement before the sale", [{ deliveredOn: "2024-01-01" }], /one of the two days is wrong/],
] as const)("a chain with %s is refused in a sentence", ([, replacements, sentence]) => {
  expect(refusal({ replacements, toldOn: "2026-01-15" })).toMatch(sentence);
});

test("a chain in any order of the list is one chain", () => {
  const replacements = [link("B", "C", "2025-06-01"), link("A", "B", "2025-01-01")];
  const given = { ...sold, replacements, replacementRule: "restart" };
  expect(answerCoverCase(given)).toMatchObject({ endsOn: "2027-06-01" });
});

test("an instant told may leave its seconds out", () => {
  const told = { ...sold, toldOn: null, zone: "Europe/Berlin" };
  expect(answerCoverCase({ ...told, toldAt: "2025-02-28T22:30Z" })).toMatchObject({ toldOn: "2025-02-28" });
  expect(answerCoverCase({ ...told, toldAt: "2025-02-28T23:30+00:00" })).toMatchObject({ toldOn: "2025-03-01" });
});

test("whatever stands in a case, the answer is one of the two kinds and no fault", () => {
  const field = fc.oneof(
    fc.anything(),
    fc.constantFrom("2024-02-29", "2199-12-31", "Europe/Berlin", "2199-12-31T23:59:59Z", 600, 0, 3660),
  );
  const names = [
    "soldOn",
    "zone",
    "toldOn",
    "toldAt",
    "months",
    "graceDays",
    "leapDay",
    "dispatchedOn",
    "stockAgeCapMonths",
    "replacements",
    "replacementRule",
    "minimumDays",
    "weekendEnd",
    "clockStop",
    "absences",
    "minimumMonths",
  ];
  const anyCase = fc.dictionary(fc.constantFrom(...names), field).map((given) => ({ ...sold, ...given }));
  fc.assert(
    fc.property(fc.oneof(fc.anything(), anyCase), (given) => {
      const answer = answerCoverCase(given);
      if ("refused" in answer) expect(answer.refused).toMatch(/[.]$/);
      else expect(answer.because.at(-1)).toBe("Legal rights against the seller are not affected.");
    }),
  );
});
