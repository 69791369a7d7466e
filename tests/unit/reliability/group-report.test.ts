import { expect, test } from "vitest";
import { groupReports } from "@/lib/reliability/group-report";
import { tallyLives } from "@/lib/reliability/tally-lives";
import { afterSale, failedAfter, packsLike, unitHistory } from "@/tests/support/pack-dates";

const returned = Array.from({ length: 6 }, (_, i) =>
  unitHistory(`F${i}`, {
    failure: failedAfter(100 + i),
    firstReturn: { toldOn: afterSale(100 + i), outcome: "confirmed" },
    replacedOn: afterSale(110 + i),
  }),
);
const noFaultFound = unitHistory("N1", {
  failure: { toldOn: afterSale(50), confirmed: false },
  firstReturn: { toldOn: afterSale(50), outcome: "not-confirmed" },
});
const open = unitHistory("O1", {
  openReturnToldOn: afterSale(60),
  firstReturn: { toldOn: afterSale(60), outcome: "undecided" },
});
const stock = packsLike(10, { soldOn: null, dispatched: false, daysSinceDispatch: null });
const sound = packsLike(82);
const unsoldB = packsLike(10, { group: "B", soldOn: null, dispatched: false, daysSinceDispatch: null });

function reports() {
  return groupReports(
    "revision",
    ["A", "B"],
    tallyLives([...returned, noFaultFound, open, ...stock, ...sound, ...unsoldB]),
  );
}

test("a report counts what was built, dispatched, in service, failed and left undecided", () => {
  const [report] = reports();
  expect(report).toMatchObject({
    group: "A",
    packsBuilt: 100,
    packsDispatched: 90,
    packsInService: 90,
    failures: 6,
    undecidedReturns: 1,
    excluded: [{ reason: "unsold", packs: 10 }],
  });
});

test("all returns, those without a fault and those still unclassified stand beside the confirmed failures", () => {
  const [report] = reports();
  expect(report?.allReturns).toMatchObject({ returns: 8, notConfirmed: 1, unclassified: 1 });
  const atOneYear = report?.allReturns.estimates[2];
  // Of 90 packs one comes back after the other, eight in all, none leaves for another reason.
  expect(atOneYear?.kind === "estimate" && atOneYear.probability).toBeCloseTo(8 / 90, 12);
});

test("a pack found faulty after its cover is counted apart and in no estimate", () => {
  const late = unitHistory("L1", { coverEndsOn: afterSale(365), failure: failedAfter(370) });
  const [report] = groupReports("revision", ["A"], tallyLives([...sound, late]));
  expect(report).toMatchObject({ failures: 0, failedAfterCover: 1, packsInService: 83 });
});

test("the naive ratio counts every returned pack over every dispatched pack", () => {
  const [report, unsold] = reports();
  expect(report?.naive).toEqual({ returns: 8, dispatched: 90, ratio: 8 / 90 });
  expect(unsold?.naive).toEqual({ returns: 0, dispatched: 0, ratio: null });
});

test("the estimates are given at 3, 6, 12 and 24 months", () => {
  const [report] = reports();
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
  const [report, unsold] = reports();
  expect(report?.sentence).toBe(
    "Of 90 packs of revision A in service, 6 have failed. 1 return is still undecided and not counted as a failure. " +
      "By 12 months in use about 6.7 in 100 fail (with 95 % confidence between 3.1 and 14 in 100; " +
      "83 packs have reached that age).",
  );
  expect(unsold?.sentence).toBe("No pack of revision B has been in use long enough to count.");
});

test("a young revision says why nothing can be said yet, and what is excluded so far", () => {
  const [report] = groupReports("revision", ["A"], tallyLives(packsLike(200, { dataDate: afterSale(95) })));
  expect(report?.sentence).toBe(
    "Of 200 packs of revision A in service, none has failed. It cannot be said yet what share fails by 3 months in " +
      "use: none of the packs watched so far has failed. So far, at most 1.8 in 100 (95 % confidence).",
  );
});

test("a group without packs is a report of noughts, not a fault", () => {
  const [report] = groupReports("revision", ["Z"], tallyLives([]));
  expect(report).toMatchObject({ group: "Z", packsBuilt: 0, failures: 0, points: [] });
});
