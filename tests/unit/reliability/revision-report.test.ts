import { expect, test } from "vitest";
import { revisionReports } from "@/lib/reliability/revision-report";
import { afterSale, failedAfter, lifeDates, unitHistory } from "@/tests/support/pack-dates";

const volumes = [
  { revisionCode: "A", packsBuilt: 120, packsDispatched: 100 },
  { revisionCode: "B", packsBuilt: 10, packsDispatched: 0 },
];

const returned = Array.from({ length: 6 }, (_, i) =>
  unitHistory(`F${i}`, { failure: failedAfter(100 + i), replacedOn: afterSale(110 + i) }),
);
const noFaultFound = unitHistory("N1", { failure: { toldOn: afterSale(50), confirmed: false } });
const open = unitHistory("O1", { openReturnToldOn: afterSale(60) });
const stock = { revisionCode: "A", packs: 10, ...lifeDates({ soldOn: null }) };
const sound = { revisionCode: "A", packs: 82, ...lifeDates() };

test("a report counts what was built, dispatched, in service, failed and left undecided", () => {
  const [report] = revisionReports(volumes, [...returned, noFaultFound, open], [stock, sound]);
  expect(report).toMatchObject({
    revisionCode: "A",
    packsBuilt: 120,
    packsDispatched: 100,
    packsInService: 90,
    failures: 6,
    undecidedReturns: 1,
    excluded: [{ reason: "unsold", packs: 10 }],
  });
});

test("the naive ratio counts every return over every dispatched pack", () => {
  const [report, unsold] = revisionReports(volumes, [...returned, noFaultFound, open], [stock, sound]);
  expect(report?.naive).toEqual({ returns: 8, dispatched: 100, ratio: 0.08 });
  expect(unsold?.naive).toEqual({ returns: 0, dispatched: 0, ratio: null });
});

test("the estimates are given at 3, 6, 12 and 24 months", () => {
  const [report] = revisionReports(volumes, [...returned, noFaultFound, open], [stock, sound]);
  expect(report?.estimates.map((e) => [e.months, e.kind])).toEqual([
    [3, "cannot-tell"],
    [6, "estimate"],
    [12, "estimate"],
    [24, "cannot-tell"],
  ]);
  const atOneYear = report?.estimates[2];
  // One open return leaves at day 60: 89 are at risk when the six fail, one after the other.
  expect(atOneYear?.kind === "estimate" && atOneYear.probability).toBeCloseTo(6 / 89, 12);
});

test("the sentence can be read without knowing statistics", () => {
  const [report, unsold] = revisionReports(volumes, [...returned, noFaultFound, open], [stock, sound]);
  expect(report?.sentence).toBe(
    "Of 90 packs of revision A in service, 6 have failed. 1 return is still undecided and not counted as a failure. " +
      "By 12 months in use about 6.7 in 100 fail (with 95 % confidence between 3.1 and 14 in 100; " +
      "83 packs have reached that age).",
  );
  expect(unsold?.sentence).toBe("No pack of revision B has been in use long enough to count.");
});

test("a young revision says why nothing can be said yet, and what is excluded so far", () => {
  const [report] = revisionReports(
    volumes,
    [],
    [{ revisionCode: "A", packs: 200, ...lifeDates({ dataDate: afterSale(95) }) }],
  );
  expect(report?.sentence).toBe(
    "Of 200 packs of revision A in service, none has failed. It cannot be said yet what share fails by 3 months in " +
      "use: none of the packs watched so far has failed. So far, at most 1.8 in 100 (95 % confidence).",
  );
});

test("packs grouped by equal dates give the same report as the packs one by one", () => {
  const single = Array.from({ length: 82 }, (_, i) => unitHistory(`S${i}`));
  const [grouped] = revisionReports(volumes, returned, [sound]);
  const [oneByOne] = revisionReports(volumes, [...returned, ...single]);
  expect(oneByOne).toEqual(grouped);
});

test("a history of an unknown revision is a fault of the caller", () => {
  expect(() => revisionReports([], [unitHistory("P1")])).toThrow("revision A has histories but no volume");
});
