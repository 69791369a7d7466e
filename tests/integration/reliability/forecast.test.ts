import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import {
  listCosts,
  proposeCost,
  readModelCosts,
  setExchangeRate,
  settleCost,
} from "@/lib/data/reliability/cost-assumptions";
import { exportForecast, readForecast } from "@/lib/data/reliability/failure-forecasts";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { keepForecast, listKeptForecasts } from "@/lib/data/reliability/kept-forecasts";
import { listPacks } from "@/lib/data/reliability/list-packs";
import { exportRollForward, readRollForward } from "@/lib/data/reliability/roll-forwards";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import type { Serial } from "@/lib/packs/serial";
import { costAssumptionSchema, exchangeRateSchema } from "@/lib/settlement/cost-assumption.schema";
import { calendarDate } from "@/lib/warranty/calendar";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

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

test("manager and finance read and take home a forecast with its cost, nobody else", async () => {
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead, fleet.safetyOfficer, fleet.administrator]) {
    expect(await readForecast(actor, dataDate)).toBeNull();
    expect(await exportForecast(actor, dataDate)).toBeNull();
    expect(await listCosts(actor)).toBeNull();
    expect(await readModelCosts(actor, dataDate)).toBeNull();
  }
  for (const actor of [fleet.manager, fleet.finance]) {
    const page = await exportForecast(actor, dataDate);
    expect(page?.currency).toBe("EUR");
    expect(page?.revisions.map(({ group }) => group)).toEqual(["QP-A", "QP-B"]);
  }
});

const proposal = costAssumptionSchema.parse({
  part: "own-work",
  remedy: "repair",
  currency: "EUR",
  mean: "200",
  spread: "50",
  cases: "25",
  error: "",
  validFrom: "2025-06-01",
  why: "Bench time and parts of a usual repair.",
});

async function proposedId(): Promise<string> {
  expect(await proposeCost(fleet.manager, proposal)).toEqual({ ok: true });
  return (await listCosts(fleet.manager))?.find(({ state }) => state === "proposed")?.id ?? "";
}

test("a cost is proposed by one manager, approved by another, and never edited; finance only reads it", async () => {
  expect(await proposeCost(fleet.finance, proposal)).toMatchObject({ reason: "not-allowed" });
  expect(await proposeCost(fleet.manager, { ...proposal, model: "XX" })).toMatchObject({ reason: "no-such-model" });
  const id = await proposedId();
  expect((await listCosts(fleet.finance))?.[0]).toMatchObject({
    state: "proposed",
    errorMinor: 1000,
    isOwnProposal: false,
  });
  expect(await settleCost(fleet.manager, id, "approved")).toMatchObject({ reason: "same-person" });
  expect(await settleCost(fleet.finance, id, "approved")).toMatchObject({ reason: "not-allowed" });
  await expect(
    asSystem((tx) =>
      tx.costAssumption.update({
        where: { id },
        data: { state: "approved", settledByUserId: fleet.manager.userId, settledAt: new Date() },
      }),
    ),
  ).rejects.toThrow(/CostAssumption_two_people/);
  const both = await Promise.all([1, 2].map(() => settleCost(fleet.manager2, id, "approved")));
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  await expect(asSystem((tx) => tx.costAssumption.update({ where: { id }, data: { meanMinor: 1 } }))).rejects.toThrow(
    /never edited/,
  );
  const again = await proposedId();
  expect(await settleCost(fleet.manager2, again, "approved")).toMatchObject({ reason: "day-taken" });
  expect(await settleCost(fleet.manager, again, "dropped")).toEqual({ ok: true });
});

test("the walls of the database hide costs from the bench and let finance propose none", async () => {
  for (const actor of [fleet.bench, fleet.lead, fleet.berlin])
    expect(await asActor(actor, (tx) => tx.costAssumption.count())).toBe(0);
  const row = await asSystem((tx) => tx.costAssumption.findFirstOrThrow());
  const { id: _, ...fields } = row;
  const asFinance = asActor(fleet.finance, (tx) =>
    tx.costAssumption.create({ data: { ...fields, state: "proposed" } }),
  );
  await expect(asFinance).rejects.toThrow(/row-level security/);
});

test("a rate is set by finance alone, once a day, into the reporting currency, and never changed", async () => {
  const rate = exchangeRateSchema.parse({
    currency: "AUD",
    rate: "0,6",
    validFrom: "2025-01-01",
    source: "Central bank",
  });
  expect(await setExchangeRate(fleet.manager, rate)).toMatchObject({ reason: "not-allowed" });
  expect(await setExchangeRate(fleet.finance, { ...rate, currency: "EUR" })).toMatchObject({ reason: "same-currency" });
  expect(await setExchangeRate(fleet.finance, rate)).toEqual({ ok: true });
  expect(await setExchangeRate(fleet.finance, rate)).toMatchObject({ reason: "day-taken" });
  expect((await readModelCosts(fleet.finance, dataDate))?.rates).toEqual([
    { currency: "AUD", into: "EUR", rate: 0.6, validFrom: "2025-01-01" },
  ]);
  await expectWrittenOnce(
    () => asSystem((tx) => tx.exchangeRate.findMany()),
    () => asSystem((tx) => tx.exchangeRate.updateMany({ data: { rate: 9 } })),
  );
});

const keptAt = new Date("2025-12-01T09:00:00Z");
const later = calendarDate("2026-03-01");

test("a forecast is kept by a manager, once a day, whole, and never changed", async () => {
  expect(await keepForecast(fleet.finance, keptAt)).toMatchObject({ reason: "not-allowed" });
  const both = await Promise.all([keepForecast(fleet.manager, keptAt), keepForecast(fleet.manager2, keptAt)]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  expect(both.find(({ ok }) => !ok)).toMatchObject({ reason: "kept-already" });
  expect(await listKeptForecasts(fleet.finance)).toMatchObject([
    { dataDate: "2025-12-01", currency: "EUR", total: null },
  ]);
  expect(await listKeptForecasts(fleet.bench)).toBeNull();
  // Two revisions and all together, each at three horizons and the end of cover.
  expect(await asSystem((tx) => tx.forecastLine.count())).toBe(12);
  await expectWrittenOnce(
    () => asSystem((tx) => tx.forecastLine.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.forecastLine.updateMany({ data: { refusal: "other" } })),
  );
  await expectWrittenOnce(
    () => asSystem((tx) => tx.forecast.findMany()),
    () => asSystem((tx) => tx.forecast.updateMany({ data: { keptByName: "Nobody" } })),
  );
  expect(await asActor(fleet.bench, (tx) => tx.forecast.count())).toBe(0);
});

test("a revision that came since stands in the roll-forward beside those that were kept", async () => {
  await asSystem(async (tx) => {
    const {
      id: _,
      code: __,
      ordinal,
      changes,
      ...like
    } = await tx.revision.findUniqueOrThrow({ where: { code: "QP-B" } });
    await tx.revision.create({ data: { ...like, code: "QP-C", ordinal: ordinal + 1, changes: changes ?? [] } });
  });
  const page = await readRollForward(fleet.manager, dataDate, later);
  expect(page?.revisions.map(({ group, isNew }) => [group, isNew])).toEqual([
    ["QP-A", false],
    ["QP-B", false],
    ["QP-C", true],
  ]);
});

test("what reached us since is counted for the packs the forecast was about, and for no others", async () => {
  const lodge = async (serial: Serial, told: string) => {
    const form = filledForm(serial, { noticedOn: told, toldOn: told });
    const answer = await lodgeReturn(fleet.berlin, form, new Date("2026-01-20T09:00:00Z"));
    expect(answer).toMatchObject({ ok: true });
  };
  const [first, second] = fleet.others;
  if (first === undefined || second === undefined) throw new Error("packs are expected");
  await lodge(first, "2026-01-12");
  // Told before the forecast's day and not lodged then: it was on its way and counts.
  await lodge(second, "2025-11-28");
  const page = await readRollForward(fleet.finance, calendarDate("2025-12-01"), later);
  expect(page).toMatchObject({ from: "2025-12-01", to: later, days: 90, currencyChanged: false });
  expect(page?.revisions.find(({ group }) => group === "QP-A")).toMatchObject({
    arisen: { confirmed: 0, undecided: 2 },
    period: null,
    returns: { came: 2, period: null, verdict: null },
    failures: null,
    paid: { amountMinor: 0 },
  });
  for (const list of ["undecided-since", "first-returned-since", "failed-since"] as const) {
    const of = { dataDate: later, by: "revision", within: "model", group: "QP-A" } as const;
    const listed = await listPacks(fleet.manager, { ...of, filter: { since: dataDate } }, list, 10);
    expect(listed?.packs.map(({ serial }) => serial).sort()).toEqual(
      list === "failed-since" ? [] : [first, second].sort(),
    );
  }
  expect(await readRollForward(fleet.manager, calendarDate("2025-11-30"), later)).toBeNull();
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead])
    expect(await exportRollForward(actor, calendarDate("2025-12-01"), later)).toBeNull();
  const before = await readRollForward(fleet.manager, calendarDate("2025-12-01"), calendarDate("2026-01-15"));
  expect(before?.revisions.find(({ group }) => group === "QP-A")?.arisen).toEqual({ confirmed: 0, undecided: 0 });
});
