import { expect, test } from "vitest";
import type { RetestStanding } from "@/lib/bench-tests/test-standing";
import {
  asMaintained,
  changesBy,
  groupsMadeAnew,
  lotsAfter,
  type PackChange,
  sayMadeAnew,
} from "@/lib/repair/as-maintained";
import { type WorkFacts, whyWorkIsRefused } from "@/lib/repair/judge-work";
import { type ReleaseRefusal, whyNotReleased } from "@/lib/repair/release";
import { type WorkEntryInput, workEntrySchema } from "@/lib/repair/work-entry.schema";

const facts: WorkFacts = {
  isInWork: true,
  isReleased: false,
  isSetApart: false,
  isOnHold: false,
  packIsHere: true,
  groupCount: 16,
  isPotted: false,
  cellsRepairable: true,
  part: { left: 3, stop: null },
  identityIsTaken: false,
};
const entry = (over: Partial<WorkEntryInput> = {}) =>
  workEntrySchema.parse({
    reference: "R",
    operation: "group-exchanged",
    lotCode: "CELL-9",
    groups: "7",
    resistanceMilliohm: "0,91",
    minutes: "45",
    note: "Group 7 out, cells kept.",
    ...over,
  });
const board: Partial<WorkEntryInput> = {
  operation: "board-exchanged",
  groups: "",
  resistanceMilliohm: "",
  identity: "BMS-77",
  firmware: "1.2",
};

test("work that names its part, its groups and what it measures now is recorded", () => {
  expect(whyWorkIsRefused(entry(), facts)).toBeNull();
  expect(whyWorkIsRefused(entry(board), facts)).toBeNull();
});

test.for<[string, Partial<WorkEntryInput>, Partial<WorkFacts>, string, RegExp]>([
  ["not in work", {}, { isInWork: false }, "operation", /not in work/],
  ["after the release", {}, { isReleased: true }, "operation", /released/],
  ["set apart", {}, { isSetApart: true }, "operation", /set apart/],
  ["under a hold", {}, { isOnHold: true }, "operation", /legal hold/],
  ["elsewhere", {}, { packIsHere: false }, "operation", /not at the works/],
  ["cells that cannot be exchanged", {}, { cellsRepairable: false }, "operation", /cannot be exchanged/],
  ["a potted pack", {}, { isPotted: true }, "operation", /potted/],
  ["no group named", { groups: "", resistanceMilliohm: "" }, {}, "groups", /Name the group/],
  ["a group it has not", { groups: "17" }, {}, "groups", /16 groups, so there is no 17/],
  ["a group without its resistance", { resistanceMilliohm: "" }, {}, "resistanceMilliohm", /resistance/],
  ["a board without identity", { ...board, identity: "" }, {}, "identity", /identity of the new board/],
  ["a board of another pack", board, { identityIsTaken: true }, "identity", /in another pack/],
  ["a board without firmware", { ...board, firmware: "" }, {}, "firmware", /firmware/],
  ["no lot", { lotCode: "" }, {}, "lotCode", /Give the lot/],
  ["an unknown lot", {}, { part: null }, "lotCode", /No lot CELL-9 of this kind \(Cells\) is booked in/],
  ["a stopped lot", {}, { part: { left: 3, stop: "Cells fade" } }, "lotCode", /stopped: Cells fade/],
  ["an empty shelf", {}, { part: { left: 0, stop: null } }, "lotCode", /Nothing is left/],
  ["a part where none is used", { operation: "charged-level" }, {}, "lotCode", /uses no part/],
])("refused at its field: %s", ([, over, known, field, words]) => {
  const refused = whyWorkIsRefused(entry(over), { ...facts, ...known });
  expect(refused?.field).toBe(field);
  expect(refused?.sentence).toMatch(words);
});

const change = (over: Partial<PackChange>): PackChange => ({
  id: "1",
  at: new Date("2026-10-05T09:00:00Z"),
  operation: "group-exchanged",
  reference: "R",
  byName: "B",
  note: "",
  lot: { id: "c9", code: "CELL-9" },
  identity: null,
  firmware: null,
  groups: [2],
  resistanceMilliohm: [0.7],
  ...over,
});
const newBoard = change({
  operation: "board-exchanged",
  lot: { id: "b2", code: "BRD-2" },
  identity: "BMS-77",
  firmware: "1.2",
  groups: [],
  resistanceMilliohm: [],
});

test("the pack as it is now is its build record with every change laid over it, and the record stays as it was", () => {
  const build = { groupResistanceMilliohm: [0.9, 0.95, 0.9], boardIdentity: "BMS-1", firmware: "1.0", capacityAh: 40 };
  expect(asMaintained(build, [change({}), newBoard])).toEqual({
    groupResistanceMilliohm: [0.9, 0.7, 0.9],
    boardIdentity: "BMS-77",
    firmware: "1.2",
    capacityAh: 40,
  });
  expect(build.groupResistanceMilliohm).toEqual([0.9, 0.95, 0.9]);
});

test("readings are held against the pack as it was when they were taken, and where that differs from the build both are said", () => {
  const build = { groupResistanceMilliohm: [0.9, 0.95, 0.9], boardIdentity: "BMS-1", firmware: "1.0" };
  const work = [change({})];
  const before = asMaintained(build, changesBy(work, new Date("2026-10-05T08:59:59Z")));
  expect(groupsMadeAnew(build, before)).toEqual([]);
  expect(sayMadeAnew([])).toBeNull();
  const after = asMaintained(build, changesBy(work, new Date("2026-10-05T09:00:00Z")));
  expect(sayMadeAnew(groupsMadeAnew(build, after))).toBe(
    "Held against the pack as it was after work on it: group 2 0.700 mΩ, built 0.950 mΩ. Every other group as built.",
  );
});

test("a new board puts the former lot out; a new cell group leaves the former lot in beside its own", () => {
  const built = [
    { lotId: "c1", kind: "cell" },
    { lotId: "b1", kind: "board" },
  ] as const;
  const lots = lotsAfter(built, [change({}), newBoard]);
  expect(lots.map(({ lotId, fittedAt, removedAt }) => [lotId, fittedAt !== null, removedAt !== null])).toEqual([
    ["c1", false, false],
    ["b1", false, true],
    ["c9", true, false],
    ["b2", true, false],
  ]);
});

const passed: RetestStanding = { kind: "passed" };
// Only the title of a test is told.
const outside = [{ title: "Capacity" }] as unknown as Extract<RetestStanding, { kind: "failed" }>["outside"];
const released = { isInWork: true, isReleased: false, workerIds: ["benno"], retest: passed };

test("a pack inside the limits of a new build is released by a named person who did none of the work", () => {
  expect(whyNotReleased(released, "bruna", "Bruna B.")).toBeNull();
});

test.for<[ReleaseRefusal, Partial<Parameters<typeof whyNotReleased>[0]>, string, string]>([
  ["not-in-work", { isInWork: false }, "bruna", "Bruna B."],
  ["released-before", { isReleased: true }, "bruna", "Bruna B."],
  ["nothing-done", { workerIds: [] }, "bruna", "Bruna B."],
  ["own-work", {}, "benno", "Benno B."],
  ["signature-missing", {}, "bruna", " "],
  ["no-plan", { retest: null }, "bruna", "Bruna B."],
  ["retest-open", { retest: { kind: "open", missing: outside } }, "bruna", "Bruna B."],
  ["outside-limits", { retest: { kind: "failed", outside, cannotTell: [] } }, "bruna", "Bruna B."],
  ["cannot-tell", { retest: { kind: "failed", outside: [], cannotTell: outside } }, "bruna", "Bruna B."],
])("not released: %s", ([why, over, userId, signature]) => {
  expect(whyNotReleased({ ...released, ...over }, userId, signature)?.why).toBe(why);
});
