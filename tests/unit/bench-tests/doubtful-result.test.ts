import { expect, test } from "vitest";
import { type AsFound, whyInDoubt } from "@/lib/bench-tests/doubtful-result";
import { type KeptResult, mandatoryTests, retestStanding, testStandings } from "@/lib/bench-tests/test-standing";
import { calendarDate as day } from "@/lib/warranty/calendar";
import { smallFleetTests } from "@/tests/support/bring-to-bench";

const calibrations = (...found: readonly (AsFound | null)[]) =>
  found.map((asFound, year) => ({ id: `c${year}`, calibratedOn: day(`${2024 + year}-01-09`), asFound }));
const doubtOf = (id: string, ...found: readonly (AsFound | null)[]) =>
  whyInDoubt({ code: "V-01", calibrations: calibrations(...found) }, id);

// After ISO 9001, 7.1.5.2 (from memory: verify there): what was measured before is looked at when equipment is found unfit.
test.for<[string, readonly (AsFound | null)[], boolean]>([
  ["nothing came after it", ["within"], false],
  ["it was found within its limits next", ["within", "within"], false],
  ["it was found off next", ["within", "off"], true],
  ["nobody could tell next", ["within", "cannot-tell"], true],
  ["it was found right once and off only later", ["within", "within", "off"], false],
  ["an entry before the question says nothing, the one after it that it was off", ["within", null, "off"], true],
])("a result is in doubt or not: %s", ([, found, isInDoubt]) => {
  expect(doubtOf("c0", ...found) !== null).toBe(isInDoubt);
});

test("the doubt names instrument and day, and says that the verdict stays; an unknown calibration is a fault", () => {
  expect(doubtOf("c0", "within", "off")).toMatchObject({
    instrumentCode: "V-01",
    sentence: expect.stringMatching(/V-01 was found to be off on 9 January 2025.*verdict of that day stays/),
  });
  expect(() => doubtOf("c7", "within")).toThrow(RangeError);
});

const began = new Date("2026-10-05T09:00:00Z");
const at = (hours: number) => new Date(began.getTime() + hours * 3_600_000);
const results = (purpose: KeptResult["purpose"], doubted: string): KeptResult[] =>
  smallFleetTests.map(({ key }) => ({
    id: key,
    testKey: key,
    purpose,
    verdict: "inside",
    correctsId: null,
    isInDoubt: key === doubted,
    at: at(1),
  }));

test("what is in doubt keeps its verdict, holds a proposal up until it is measured again or left out, and releases nothing", () => {
  const finding = { purpose: "finding", since: began } as const;
  const doubted = results("finding", "insulation");
  const stateOf = (more: readonly KeptResult[], waivedAt: Date | null = null) => {
    const waivers = waivedAt === null ? [] : [{ testKey: "insulation", at: waivedAt }];
    const standings = testStandings(smallFleetTests, [...doubted, ...more], waivers, finding);
    const insulation = standings.find(({ test: { key } }) => key === "insulation")?.state;
    return [insulation?.kind, mandatoryTests(standings)];
  };
  const again = { ...doubted[0], id: "again", testKey: "insulation", isInDoubt: false, at: at(4) } as KeptResult;
  expect(stateOf([])).toEqual(["in-doubt", "open"]);
  expect(stateOf([again])).toEqual(["done", "done"]);
  expect(stateOf([], at(4))).toEqual(["waived", "waived"]);
  // Left out first and measured all the same: the measurement counted, so its doubt does.
  expect(stateOf([], at(0))).toEqual(["in-doubt", "open"]);
  const retest = { purpose: "retest", since: began } as const;
  const after = (doubt: string) => retestStanding(testStandings(smallFleetTests, results("retest", doubt), [], retest));
  expect(after("none")).toEqual({ kind: "passed" });
  expect(after("capacity")).toMatchObject({ kind: "open", missing: [{ key: "capacity" }] });
});
