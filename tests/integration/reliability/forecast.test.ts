import { beforeAll, expect, test } from "vitest";
import { exportForecast, readForecast } from "@/lib/data/failure-forecasts";
import { readGroupPage } from "@/lib/data/group-page";
import { calendarDate } from "@/lib/warranty/calendar";
import { createSmallFleet, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const dataDate = calendarDate("2025-12-01");
let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

test("every pack that runs under cover is at risk in the forecast; too few failures are refused by name", async () => {
  const page = await readForecast(fleet.manager, dataDate);
  const line = (await readGroupPage(fleet.manager, dataDate, { by: "revision", group: "QP-A" }))?.line;
  const revision = page?.revisions.find(({ group }) => group === "QP-A");
  expect(revision?.packsUnderCover).toBeGreaterThan(0);
  expect(revision?.packsUnderCover).toBeLessThanOrEqual(line?.packsInService ?? 0);
  expect(revision?.forecasts.map((one) => one.kind === "refused" && one.reason)).toEqual([
    "too-few-failures",
    "too-few-failures",
    "too-few-failures",
  ]);
  expect(page?.revisions.find(({ group }) => group === "QP-B")?.forecasts[0]).toMatchObject({
    reason: "nothing-running",
  });
});

test("nobody but the manager reads or takes home a forecast", async () => {
  for (const actor of [fleet.berlin, fleet.bench, fleet.finance, fleet.administrator]) {
    expect(await readForecast(actor, dataDate)).toBeNull();
    expect(await exportForecast(actor, dataDate)).toBeNull();
  }
  expect(await exportForecast(fleet.manager, dataDate)).not.toBeNull();
});
