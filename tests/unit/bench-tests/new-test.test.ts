import { expect, test } from "vitest";
import { planChanges } from "@/lib/bench-tests/plan-changes";
import { planField, readProposedTests } from "@/lib/bench-tests/plan-proposal";
import { testListSchema } from "@/lib/bench-tests/test-definition.schema";
import { smallFleetTests } from "@/tests/support/bring-to-bench";

/** The form as it stands before anything is changed. */
const untouched = Object.fromEntries(
  smallFleetTests.filter(({ isMandatory }) => isMandatory).map(({ key }) => [planField(key, "mandatory"), "on"]),
);
const measured = {
  title: "Charge plug, resistance",
  shows: "A worn or burnt contact of the charge plug.",
  phase: "light-load",
  method: "Four wires, from the pin of the plug to the fuse, ten amperes.",
  caution: "Live parts: trained people only, insulated tools; local rules come first.",
  instrument: "four-wire-ohmmeter",
  "limits.upper": "2,5",
  "limits.sourceNote": "Engineering default",
  mandatory: "on",
};
const looked = {
  title: "Vent membrane",
  shows: "A torn membrane lets water in.",
  phase: "look",
  method: "Magnifier, oblique light, no pressure.",
  expected: "The membrane is whole and dry.",
};
const filled = (test: Readonly<Record<string, string>>, slot = "new.1") =>
  Object.fromEntries(Object.entries(test).map(([part, value]) => [planField(slot, part), value]));
const proposed = (...typed: Readonly<Record<string, string>>[]) =>
  readProposedTests(smallFleetTests, Object.assign({}, untouched, ...typed));
function testsOf(...typed: Readonly<Record<string, string>>[]) {
  const read = proposed(...typed);
  if (read.kind === "problems") throw new Error(JSON.stringify(read.problems));
  return read.tests;
}

test("a wholly new test stands last of its kind or right after the one named, with the unit of its instrument", () => {
  const tests = testsOf(filled(measured), filled(looked, "new.2"));
  expect(testListSchema.safeParse(tests).success).toBe(true);
  const phases = tests.map(({ phase }) => phase);
  const place = tests.findIndex(({ key }) => key === "charge-plug-resistance");
  expect(phases.lastIndexOf("light-load")).toBe(place);
  expect(tests[place]).toMatchObject({
    isMandatory: true,
    isDestructive: false,
    reading: { unit: "mΩ", limits: { lower: null, upper: 2.5, source: "common-practice" }, buildLimits: null },
  });
  const [first, second] = testsOf(filled({ ...looked, after: "outside" }));
  expect([first?.key, second?.key]).toEqual(["outside", "vent-membrane"]);
  expect(planChanges(smallFleetTests, tests)).toEqual(["“Vent membrane” is new.", "“Charge plug, resistance” is new."]);
});

test("a test of the same name gets a short name of its own; nothing typed adds nothing", () => {
  const again = testsOf(filled({ ...looked, title: "Outside" }));
  expect(again.map(({ key }) => key)).toContain("outside-2");
  expect(testsOf()).toEqual(smallFleetTests);
});

test.for<[string, Readonly<Record<string, string>>, string]>([
  ["no phase", { ...measured, phase: "" }, "phase"],
  ["no word of what can hurt", { ...measured, caution: "" }, "caution"],
  ["nothing to go by where somebody looks", { ...looked, expected: "" }, "expected"],
  ["no limit", { ...measured, "limits.upper": "" }, "limits.lower"],
  ["a limit that is no number", { ...measured, "limits.upper": "much" }, "limits.upper"],
  ["a limit from nowhere", { ...measured, "limits.sourceNote": "" }, "limits.sourceNote"],
  ["a re-test without limits of a new build", { ...measured, retest: "on" }, "buildLimits.lower"],
  [
    "a mandatory test that destroys",
    { ...looked, phase: "opening", caution: measured.caution, mandatory: "on" },
    "mandatory",
  ],
  ["a place that would lose evidence", { ...looked, after: "capacity" }, "after"],
])("refused at its field: %s", ([, typed, part]) => {
  const read = proposed(filled(typed));
  expect(read.kind).toBe("problems");
  if (read.kind === "problems") expect(read.problems.map(({ field }) => field)).toContain(planField("new.1", part));
});
