import { beforeAll, expect, test } from "vitest";
import { asSystem } from "@/lib/data/database";
import { readPackFacts } from "@/lib/data/packs/pack-facts";
import { readForecast } from "@/lib/data/reliability/failure-forecasts";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { exportPacks, listPacks } from "@/lib/data/reliability/list-packs";
import {
  exportMonthTriangle,
  listMonthPacks,
  listRevisionsByModel,
  readMonthTriangle,
} from "@/lib/data/reliability/month-triangle";
import { readConfirmationLags, readPlacedLags, readReportingLags } from "@/lib/data/reliability/reporting-lags";
import { exportWatch, readWatch } from "@/lib/data/reliability/watch";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { packLists } from "@/lib/reliability/pack-lists";
import { calendarDate } from "@/lib/warranty/calendar";
import { Prisma } from "@/prisma/generated/client";
import { takeAndDecide } from "@/tests/support/decide-return";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const dataDate = calendarDate("2026-11-01");
let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

async function lineOf(code: string) {
  const page = await readGroupPage(fleet.manager, dataDate, { by: "revision", group: code });
  if (page === null) throw new Error(`no page of ${code}`);
  return page.line;
}

test("only packs known to be sold are in service; a revision without packs has a line of its own", async () => {
  expect(await lineOf("QP-A")).toMatchObject({ packsBuilt: 12, packsDispatched: 12, packsInService: 11, failures: 0 });
  expect(await lineOf("QP-B")).toMatchObject({ packsBuilt: 0, packsInService: 0, failures: 0, naive: { ratio: null } });
});

test("an undecided return is counted apart, and its decision makes it a failure at the told date", async () => {
  const serial = fleet.others[0] ?? fleet.unsold;
  // Both late in the evening of the day before in UTC, and after midnight in Berlin.
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), new Date("2026-10-04T22:30:00Z"));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  expect(await lineOf("QP-A")).toMatchObject({ failures: 0, undecidedReturns: 1, naive: { returns: 1 } });

  const decision = {
    remedy: "repair",
    confirmedFault: "weak-cell",
    reason: "Group 4 holds 31 Ah.",
  } as const;
  await takeAndDecide(fleet, lodged.reference, decision, new Date("2026-10-19T22:30:00Z"));
  const after = await lineOf("QP-A");
  expect(after).toMatchObject({ failures: 1, undecidedReturns: 0 });
  // Sold 2025-06-02, told 2026-10-02: 487 days of use.
  expect(after.curve.steps.filter(({ failures }) => failures > 0).map(({ age }) => age)).toEqual([487]);
  // On the dealer's calendar lodged three days after it was told, but known as a failure only by its decision, 18 days after.
  const longest = 30;
  expect(await asSystem((tx) => readReportingLags(tx, dataDate))).toEqual([{ lag: 3, longest, count: 1 }]);
  expect(await asSystem((tx) => readConfirmationLags(tx, dataDate))).toEqual([{ lag: 18, longest, count: 1 }]);
  const placed = await asSystem((tx) => readPlacedLags(tx, dataDate));
  expect(placed).toMatchObject([{ country: "DE", lag: 18, longest, count: 1 }]);
});

test("no fault found is no failure", async () => {
  const serial = fleet.others[1] ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), new Date("2026-10-05T09:00:00Z"));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const decision = {
    remedy: "return-as-is",
    confirmedFault: "no-fault-found",
    reason: "Full cycle passed, log quiet.",
  } as const;
  await takeAndDecide(fleet, lodged.reference, decision, new Date("2026-10-20T09:00:00Z"));
  expect(await lineOf("QP-A")).toMatchObject({ failures: 1, undecidedReturns: 0, packsInService: 11 });
});

test("only a manager reads it", async () => {
  const asked = { by: "revision", group: "QP-A" } as const;
  expect(await readGroupPage(fleet.bench, dataDate, asked)).toBeNull();
  expect(await readGroupPage(fleet.berlin, dataDate, asked)).toBeNull();
});

test("a lot has the page of a revision; a group nobody knows has none", async () => {
  const lot = await readGroupPage(fleet.manager, dataDate, { by: "cell-lot", group: "CELL-1" });
  expect(lot).toMatchObject({ modelNames: ["Quarry 16"], line: { packsBuilt: 12, failures: 1 }, revision: null });
  expect(lot?.failures.map(({ ageDays, confirmedFault }) => [ageDays, confirmedFault])).toEqual([[487, "weak-cell"]]);
  expect(lot?.line.sentence).toMatch(/^Of 11 packs of cell lot CELL-1 in service, 1 has failed\./);
  expect(await readGroupPage(fleet.manager, dataDate, { by: "cell-lot", group: "CELL-2" })).toBeNull();
});

test("only a manager takes the failure rates out of the house, as they stand on the page", async () => {
  const choice = { by: "revision", within: "model" } as const;
  expect(await exportWatch(fleet.bench, dataDate, choice)).toBeNull();
  expect(await exportWatch(fleet.berlin, dataDate, choice)).toBeNull();
  const exported = await exportWatch(fleet.manager, dataDate, choice);
  expect(exported?.page).toEqual(await readWatch(fleet.manager, dataDate, choice));
  // The one pack without a day of sale is in the file, read as a life since its dispatch.
  expect(exported?.lines.map(({ group, unknownStarts }) => [group, unknownStarts?.packs ?? 0])).toEqual([
    ["QP-A", 1],
    ["QP-B", 0],
  ]);
});

async function backInUse(group: string): Promise<number> {
  const { waiting } = (await readForecast(fleet.manager, dataDate)) ?? { waiting: [] };
  return waiting.find((one) => one.group === group)?.backInUse ?? -1;
}

test.each(packLists)("the list of %s has as many packs as the number it stands behind", async (list) => {
  const question = { dataDate, by: "revision", within: "model", group: "QP-A" } as const;
  const page = await listPacks(fleet.manager, question, list, 100);
  const line = await lineOf("QP-A");
  const inService = line.packsInService;
  const numbers = {
    built: line.packsBuilt,
    dispatched: line.packsDispatched,
    "in-service": inService,
    // With no age asked for, all that were ever at risk.
    "at-risk": inService,
    // The one pack without a day of sale.
    "unknown-start": 1,
    failures: line.failures,
    undecided: line.undecidedReturns,
    returns: line.allReturns.returns,
    unclassified: line.allReturns.unclassified,
    // Sydney's pack is the one whose cover has ended.
    running: line.packsInService - line.failures - line.undecidedReturns - 1,
    "back-in-use": await backInUse("QP-A"),
    "not-sold": line.excluded.find(({ reason }) => reason === "unsold")?.packs ?? 0,
    "after-cover": line.failedAfterCover,
    "left-out": 0,
    // No pack came twice, and none was confirmed after its cover.
    "each-return": line.allReturns.returns,
    "each-confirmed": line.failures,
    // Nothing has come since today.
    "failed-since": 0,
    "undecided-since": 0,
    "first-returned-since": 0,
    "failed-again-since": 0,
  };
  expect(page?.total).toBe(numbers[list]);
  expect(page?.packs).toHaveLength(numbers[list]);
  expect(await listPacks(fleet.bench, question, list, 100)).toBeNull();
  expect(await exportPacks(fleet.berlin, question, list, 100)).toBeNull();
});

test("thresholds a model brings of its own are read with its packs and told on the page of its revision", async () => {
  const stored = { verdict: { suggestConfidence: 0.9, noSuch: 1 } };
  await asSystem((tx) => tx.packModel.updateMany({ data: { diagnosis: stored } }));
  const facts = await asSystem((tx) => readPackFacts(tx, fleet.unsold));
  expect(facts?.model.facts.diagnosis).toEqual(stored);
  const page = await readGroupPage(fleet.manager, dataDate, { by: "revision", group: "QP-A" });
  expect(page?.revision?.thresholds).toEqual([
    { name: "verdict.noSuch", value: "1", usual: null },
    { name: "verdict.suggestConfidence", value: "0.9", usual: "0.5" },
  ]);
  await expect(asSystem((tx) => tx.packModel.updateMany({ data: { diagnosis: [1] } }))).rejects.toThrow(
    /PackModel_diagnosis/,
  );
  await asSystem((tx) => tx.packModel.updateMany({ data: { diagnosis: Prisma.DbNull } }));
});

test("months of sale by months in service hold every failure once, and each cell opens to its packs at risk", async () => {
  const asked = { by: "revision", group: "QP-A" } as const;
  const page = await readMonthTriangle(fleet.manager, dataDate, asked);
  const rows = page?.triangle.rows ?? [];
  expect(rows.map(({ soldIn, packs, failures }) => [soldIn, packs, failures])).toEqual([
    ["2024-03", 1, 0],
    ["2025-06", 9, 1],
    ["2025-11", 1, 0],
  ]);
  // Sold 2025-06-02, failed at an age of 487 days, which are 16 months of 30.4375 days: the end of the 16th.
  const cell = rows[1]?.cells.find(({ failures }) => failures > 0);
  expect(cell).toMatchObject({ month: 16, failures: 1, atRisk: 9 });
  const packs = await listMonthPacks(fleet.manager, dataDate, { ...asked, soldIn: "2025-06", month: 16 });
  expect(packs?.map(({ status }) => status)).toEqual(["failed", ...Array(8).fill("running")]);
  // The counts of a whole month of sale open to as many packs.
  for (const { soldIn, packs: inUse, failures } of rows) {
    expect(await listMonthPacks(fleet.manager, dataDate, { ...asked, soldIn })).toHaveLength(inUse);
    const failed = await listMonthPacks(fleet.manager, dataDate, { ...asked, soldIn, only: "failures" });
    expect(failed?.map(({ status }) => status)).toEqual(Array(failures).fill("failed"));
  }
  // Without a group every revision is offered, also one that was never built.
  const offered = await listRevisionsByModel(fleet.manager);
  expect(offered?.flatMap(({ revisions }) => revisions)).toEqual(["QP-B", "QP-A"]);
  for (const actor of [fleet.bench, fleet.berlin]) {
    expect(await listRevisionsByModel(actor)).toBeNull();
    expect(await readMonthTriangle(actor, dataDate, asked)).toBeNull();
    expect(await exportMonthTriangle(actor, dataDate, asked)).toBeNull();
    expect(await listMonthPacks(actor, dataDate, { ...asked, soldIn: "2025-06", month: 16 })).toBeNull();
  }
});

test("a group's page reads packs without a day of sale in three ways, and counts a customer's returns", async () => {
  const page = await readGroupPage(fleet.manager, dataDate, { by: "revision", group: "QP-A" });
  // One pack lies dispatched without a sale; eleven dated ones are too few to tell the usual time on the shelf.
  expect(page?.unknownStarts).toMatchObject({ packs: 1, failures: 0, delay: null });
  expect(page?.unknownStarts?.readings.map(({ reading, packs, failures }) => [reading, packs, failures])).toEqual([
    ["left-out", 11, 1],
    ["since-dispatch", 12, 1],
    ["failed-when-new", 11, 1],
  ]);
  expect(page?.repeats).toMatchObject({ places: 11, returns: 2, returned: 2, returnedAgain: 0 });
});
