import { expect, test } from "vitest";
import { isOpenOn, issuesOfPack, type KnownIssue } from "@/lib/packs/known-issue";
import { replacementChoice } from "@/lib/packs/replacement-choice";
import { checkRevision, FIT_CONFIDENCE } from "@/lib/packs/revision-check";
import { calendarDate as day } from "@/lib/warranty/calendar";

const today = day("2026-03-01");
const pack = { revisionCode: "TR-C", lotCodes: ["CELL-11", "POT-4"], setNumbers: [3] };
const issue = (over: Partial<KnownIssue>): KnownIssue => ({
  title: "Joints loosen",
  revisionCode: "TR-C",
  lotCode: null,
  setNumber: null,
  faults: ["high-resistance-joint"],
  action: "Measure the joints before anything else.",
  suggestedRemedy: "replace",
  openedOn: day("2025-06-01"),
  closedOn: null,
  stopShip: false,
  ...over,
});

test("an issue concerns a pack by revision, by lot, by both together, or by the set that names it", () => {
  const titles = (issues: KnownIssue[]) => issuesOfPack(pack, issues, today).map(({ issue: { title } }) => title);
  expect(
    titles([
      issue({ title: "revision" }),
      issue({ title: "lot", revisionCode: null, lotCode: "POT-4" }),
      issue({ title: "both", lotCode: "CELL-11" }),
      issue({ title: "other revision", revisionCode: "TR-B" }),
      issue({ title: "other lot", revisionCode: null, lotCode: "POT-5" }),
      issue({ title: "lot of another revision", revisionCode: "TR-B", lotCode: "POT-4" }),
      issue({ title: "revision with another lot", lotCode: "POT-5" }),
      issue({ title: "set", revisionCode: null, setNumber: 3 }),
      issue({ title: "other set", revisionCode: null, setNumber: 4 }),
      issue({ title: "bound to nothing", revisionCode: null }),
    ]),
  ).toEqual(["revision", "lot", "both", "set"]);
});

test("an issue counts from the day it is opened until the day before it is closed", () => {
  const dated = issue({ closedOn: day("2026-02-01") });
  expect(
    [day("2025-05-31"), day("2025-06-01"), day("2026-01-31"), day("2026-02-01")].map((on) => isOpenOn(dated, on)),
  ).toEqual([false, true, true, false]);
});

test("a pack of which nothing is known says so", () => {
  expect(checkRevision(pack, [issue({ revisionCode: "TR-B" })], [], today).kind).toBe("no-known-issue");
});

test("a found fault fits an issue that is about it, and not one that is about another", () => {
  const fitOf = (findings: Parameters<typeof checkRevision>[2]) => {
    const check = checkRevision(pack, [issue({})], findings, today);
    return check.kind === "known-issues" ? check.issues[0]?.fit.kind : check.kind;
  };
  expect(
    fitOf([
      { fault: "weak-cell", confidence: 0.8 },
      { fault: "high-resistance-joint", confidence: 0.5 },
    ]),
  ).toBe("fits");
  expect(fitOf([{ fault: "weak-cell", confidence: 0.8 }])).toBe("does-not-fit");
  expect(fitOf([])).toBe("nothing-found-yet");
  expect(fitOf([{ fault: "no-fault-found", confidence: 0.9 }])).toBe("nothing-found-yet");
});

test("a finding below the stated confidence speaks neither for nor against", () => {
  const at = (confidence: number) =>
    checkRevision(pack, [issue({})], [{ fault: "high-resistance-joint", confidence }], today);
  expect(at(FIT_CONFIDENCE)).toMatchObject({ issues: [{ fit: { kind: "fits" } }] });
  expect(at(FIT_CONFIDENCE - 0.01)).toMatchObject({ issues: [{ fit: { kind: "nothing-found-yet" } }] });
});

const revisions = [
  { code: "TR-C", supersededOn: day("2025-01-01") },
  { code: "TR-D", supersededOn: null },
  { code: "TR-E", supersededOn: null },
];
const rows = ["TR-C", "TR-D", "TR-E", "TR-X"].map((replacedByCode) => ({
  revisionCode: "TR-C",
  replacedByCode,
  note: `${replacedByCode} fits`,
  lotCodes: ["CELL-12", "CELL-13", "POT-9"],
}));

test("only current, compatible revisions under no open stop may replace, and the others say why", () => {
  const choice = replacementChoice("TR-C", rows, revisions, [issue({ revisionCode: "TR-E", stopShip: true })], today);
  expect(choice).toMatchObject({
    kind: "may-replace",
    options: [{ revisionCode: "TR-D", note: "TR-D fits", avoidLotCodes: [] }],
    refused: [
      { revisionCode: "TR-C", why: "superseded" },
      { revisionCode: "TR-E", why: "stopped" },
      { revisionCode: "TR-X", why: "unknown-revision" },
    ],
  });
});

test("a stop that is closed, or an issue without a stop, refuses nothing", () => {
  const issues = [
    issue({ revisionCode: "TR-E", stopShip: true, closedOn: day("2026-01-01") }),
    issue({ revisionCode: "TR-D" }),
  ];
  const choice = replacementChoice("TR-C", rows, revisions, issues, today);
  expect(choice).toMatchObject({ options: [{ revisionCode: "TR-D" }, { revisionCode: "TR-E" }] });
});

test("a stop on a lot leaves the revision free and names the lot to avoid", () => {
  const issues = [
    issue({ revisionCode: "TR-D", lotCode: "CELL-12", stopShip: true }),
    issue({ revisionCode: null, lotCode: "POT-9", stopShip: true }),
    issue({ revisionCode: "TR-E", lotCode: "CELL-13", stopShip: true }),
  ];
  const choice = replacementChoice("TR-C", rows, revisions, issues, today);
  expect(choice).toMatchObject({
    options: [{ avoidLotCodes: ["CELL-12", "POT-9"] }, { avoidLotCodes: ["POT-9", "CELL-13"] }],
  });
});

test("a stopped lot of which the replacement holds nothing is not named", () => {
  const stop = issue({ revisionCode: null, lotCode: "OTHER-MODEL-1", stopShip: true });
  expect(replacementChoice("TR-C", rows, revisions, [stop], today)).toMatchObject({
    options: [{ avoidLotCodes: [] }, { avoidLotCodes: [] }],
  });
});

test("a revision without a row, or with none left, has no replacement and says what to do", () => {
  expect(replacementChoice("TR-A", rows, revisions, [], today)).toMatchObject({
    kind: "none",
    refused: [],
    sentence: expect.stringMatching(/Ask engineering/),
  });
  const stopped = ["TR-D", "TR-E"].map((revisionCode) => issue({ revisionCode, stopShip: true }));
  expect(replacementChoice("TR-C", rows, revisions, stopped, today)).toMatchObject({
    kind: "none",
    sentence: expect.stringMatching(/Repair it/),
  });
});
