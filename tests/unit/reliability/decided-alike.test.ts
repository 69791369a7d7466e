import { expect, test } from "vitest";
import type { CostBook } from "@/lib/reliability/cost-book";
import { afterCoverSentence, sayMeanCost } from "@/lib/reliability/cost-sentences";
import { type DecidedOfRevision, decidedAlike, FEWEST_OF_REVISION } from "@/lib/reliability/decided-alike";
import { failureCost } from "@/lib/reliability/failure-cost";
import type { CostAssumption } from "@/lib/settlement/cost-assumption";
import { calendarDate } from "@/lib/warranty/calendar";

// Amounts are made up; the means are worked out by hand beside them.

const on = calendarDate("2026-11-29");
const assumed = (remedy: "repair" | "replace", part: CostAssumption["part"], meanMinor: number): CostAssumption => ({
  ...{ id: `${remedy} ${part}`, part, remedy, meanMinor, model: null, country: null, currency: "EUR", cases: 0 },
  ...{ spreadMinor: 0, errorMinor: 0, validFrom: on },
});
const book: CostBook = {
  ...{ reportingCurrency: "EUR", on, rates: [], settled: [] },
  assumptions: [
    assumed("repair", "own-work", 20_000),
    assumed("repair", "dealer-payments", 0),
    assumed("replace", "own-work", 98_000),
    assumed("replace", "dealer-payments", 0),
  ],
};

const open = { model: "GW", potted: false, cellsRepairable: true, others: [], afterCover: 0 };
const potted = { ...open, potted: true, cellsRepairable: false };
const failed = (remedy: "repair" | "replace", returns: number) => [{ remedy, country: "DE", returns }];
const fleet: readonly DecidedOfRevision[] = [
  { ...open, revision: "GW-A", failures: failed("repair", 30) },
  { ...open, revision: "GW-B", failures: failed("repair", 6), afterCover: 40 },
  { ...potted, revision: "GW-C", failures: failed("replace", 4) },
  { ...potted, revision: "GW-D", failures: failed("replace", 3) },
  { ...open, revision: "BR-A", model: "BR", failures: failed("repair", 50) },
];

function of(revision: string, all = fleet) {
  const asked = all.find((one) => one.revision === revision);
  if (asked === undefined) throw new Error(`no revision ${revision}`);
  return decidedAlike(asked, all);
}

test("a revision with enough decided failures is priced by its own, one with fewer by all that can be repaired alike", () => {
  expect(of("GW-A")).toMatchObject({ of: "GW-A", failures: failed("repair", 30) });
  expect(of("GW-B")).toMatchObject({ of: "GW-A, GW-B", failures: failed("repair", 36) });
  const [first, ...others] = fleet;
  if (first === undefined) throw new Error("a fleet is expected");
  const fewer = (failures: number) => [{ ...first, failures: failed("repair", failures) }, ...others];
  expect(of("GW-A", fewer(FEWEST_OF_REVISION)).of).toBe("GW-A");
  expect(of("GW-A", fewer(FEWEST_OF_REVISION - 1)).of).toBe("GW-A, GW-B");
});

test("a potted revision is never priced by repairs of open ones", () => {
  expect(of("GW-C")).toMatchObject({ of: "GW-C, GW-D", failures: failed("replace", 7) });
  expect(failureCost("GW", of("GW-C"), book)).toMatchObject({ kind: "cost", mean: 98_000, decided: 7 });
});

test("what was refused after cover moves no cost and is told beside it", () => {
  const cost = failureCost("GW", of("GW-B"), book);
  if (cost.kind === "unknown") throw new Error(cost.sentences.join(" "));
  expect(cost).toMatchObject({ mean: 20_000, decided: 36, afterCover: 40 });
  expect(sayMeanCost(cost)).toContain("remedies of 36 decided failures of GW-A, GW-B within cover");
  expect(afterCoverSentence(cost)).toBe(
    "40 returns told after the end of cover were decided besides: they are not in it, because forecast and reserve count failures within cover alone.",
  );
});
