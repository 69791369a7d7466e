import fc from "fast-check";
import { expect, test } from "vitest";
import { exposureOf, returnExposureOf } from "@/lib/reliability/exposure";
import { afterSale, failedAfter, lifeDates, soldOn } from "@/tests/support/pack-dates";

test("a sound pack is watched from its sale to the data date", () => {
  expect(exposureOf(lifeDates())).toEqual({
    kind: "exposure",
    entryDays: 0,
    exitDays: 400,
    slackDays: 0,
    status: "running",
  });
});

test("unsold stock has no exposure", () => {
  expect(exposureOf(lifeDates({ soldOn: null }))).toEqual({ kind: "excluded", reason: "unsold" });
});

test("a pack first watched after its sale enters at the age it then had", () => {
  expect(exposureOf(lifeDates({ underObservationFrom: afterSale(90) }))).toMatchObject({
    entryDays: 90,
    exitDays: 400,
  });
});

test("observation that began before the sale adds no age", () => {
  expect(exposureOf(lifeDates({ underObservationFrom: afterSale(-30) }))).toMatchObject({ entryDays: 0 });
});

test("a confirmed failure ends the exposure on the day it was told", () => {
  expect(exposureOf(lifeDates({ failure: failedAfter(120) }))).toEqual({
    kind: "exposure",
    entryDays: 0,
    exitDays: 120,
    slackDays: 280,
    status: "failed",
  });
});

test("no fault found is no failure and the pack keeps ageing", () => {
  const failure = { toldOn: afterSale(120), confirmed: false };
  expect(exposureOf(lifeDates({ failure }))).toMatchObject({ exitDays: 400, status: "running" });
});

test("an undecided return ends the exposure on the day it was told without being a failure", () => {
  expect(exposureOf(lifeDates({ openReturnToldOn: afterSale(200) }))).toMatchObject({
    exitDays: 200,
    status: "undecided",
  });
});

// Meeker and Escobar 1998, ch. 3 (from memory): a unit is in the risk set up to the last age it is known to have worked.
test("a pack ran until its confirmed failure, whatever return nobody decided came before", () => {
  const dates = { openReturnToldOn: afterSale(150), coverEndsOn: afterSale(365) };
  expect(exposureOf(lifeDates({ ...dates, failure: failedAfter(300) }))).toMatchObject({
    exitDays: 300,
    status: "failed",
  });
  expect(exposureOf(lifeDates({ ...dates, failure: failedAfter(380) }))).toMatchObject({
    exitDays: 365,
    status: "cover-ended",
  });
  const noFailure = { toldOn: afterSale(300), confirmed: false };
  expect(exposureOf(lifeDates({ ...dates, failure: noFailure }))).toMatchObject({ exitDays: 150, status: "undecided" });
});

test("a failure on the last day of cover counts, one on the day after does not", () => {
  const coverEndsOn = afterSale(365);
  expect(exposureOf(lifeDates({ coverEndsOn, failure: failedAfter(365) }))).toMatchObject({
    exitDays: 365,
    status: "failed",
  });
  expect(exposureOf(lifeDates({ coverEndsOn, failure: failedAfter(366) }))).toMatchObject({
    exitDays: 365,
    status: "cover-ended",
  });
});

test("a replaced pack is watched until its replacement", () => {
  expect(exposureOf(lifeDates({ replacedOn: afterSale(50) }))).toMatchObject({ exitDays: 50, status: "replaced" });
});

test("a pack that left its user for good without a confirmed failure is at risk up to that day and no further", () => {
  expect(exposureOf(lifeDates({ outOfUseOn: afterSale(40), replacedOn: afterSale(50) }))).toMatchObject({
    kind: "exposure",
    exitDays: 40,
    status: "out-of-use",
  });
  expect(exposureOf(lifeDates({ outOfUseOn: afterSale(40), failure: failedAfter(40) }))).toMatchObject({
    exitDays: 40,
    status: "failed",
  });
});

test("a failure replaced on the same day is a failure", () => {
  const dates = lifeDates({ failure: failedAfter(50), replacedOn: afterSale(50) });
  expect(exposureOf(dates)).toMatchObject({ exitDays: 50, status: "failed" });
});

test("what was told after the data date is not known yet", () => {
  expect(exposureOf(lifeDates({ failure: failedAfter(401) }))).toMatchObject({ exitDays: 400, status: "running" });
  expect(exposureOf(lifeDates({ failure: failedAfter(400) }))).toMatchObject({ exitDays: 400, status: "failed" });
});

test("a pack that fails on the day of its sale has one day of age", () => {
  expect(exposureOf(lifeDates({ failure: failedAfter(0) }))).toMatchObject({ exitDays: 1, status: "failed" });
});

test("a return told before the sale is refused by name", () => {
  const refused = { kind: "excluded", reason: "return-before-sale" };
  expect(exposureOf(lifeDates({ failure: failedAfter(-1) }))).toEqual(refused);
  expect(exposureOf(lifeDates({ openReturnToldOn: afterSale(-1) }))).toEqual(refused);
});

test("a returned pack without a sale date is refused by name", () => {
  const dates = lifeDates({ soldOn: null, failure: failedAfter(10) });
  expect(exposureOf(dates)).toEqual({ kind: "excluded", reason: "returned-without-sale-date" });
});

test("a pack sold on the data date or later is not in use yet", () => {
  for (const dataDate of [soldOn, afterSale(-5)]) {
    expect(exposureOf(lifeDates({ dataDate }))).toEqual({ kind: "excluded", reason: "not-yet-in-use" });
  }
});

test("a pack that fails on the day of its sale counts also when that is the data date", () => {
  expect(exposureOf(lifeDates({ dataDate: soldOn, failure: failedAfter(0) }))).toMatchObject({ status: "failed" });
});

test("a life that ended before observation began, or on its first day, is excluded", () => {
  const underObservationFrom = afterSale(100);
  for (const failure of [failedAfter(99), failedAfter(100)]) {
    expect(exposureOf(lifeDates({ underObservationFrom, failure }))).toEqual({
      kind: "excluded",
      reason: "ended-before-observation",
    });
  }
});

test("a pack watched only from the data date on is excluded", () => {
  expect(exposureOf(lifeDates({ underObservationFrom: afterSale(400) }))).toEqual({
    kind: "excluded",
    reason: "observation-not-begun",
  });
});

test("days in the workshop before a hand back are taken off the age, also off the age of a later failure", () => {
  const withUs = [{ from: afterSale(100), until: afterSale(130) }];
  expect(exposureOf(lifeDates({ withUs }))).toMatchObject({ exitDays: 370, status: "running" });
  expect(exposureOf(lifeDates({ withUs, failure: failedAfter(200) }))).toMatchObject({
    exitDays: 170,
    status: "failed",
  });
});

test("a stay in the workshop that goes on past the end of the exposure counts up to that end only", () => {
  const withUs = [{ from: afterSale(100), until: afterSale(130) }];
  expect(exposureOf(lifeDates({ withUs, coverEndsOn: afterSale(110) }))).toMatchObject({ exitDays: 100 });
  expect(exposureOf(lifeDates({ withUs, failure: failedAfter(90) }))).toMatchObject({ exitDays: 90 });
});

test("the first return of any kind within cover ends the line of all returns", () => {
  const firstReturn = { toldOn: afterSale(80), outcome: "not-confirmed" as const };
  expect(returnExposureOf(lifeDates({ firstReturn }))).toMatchObject({ exitDays: 80, status: "returned" });
  expect(returnExposureOf(lifeDates({ firstReturn, coverEndsOn: afterSale(79) }))).toMatchObject({
    exitDays: 79,
    status: "cover-ended",
  });
  expect(returnExposureOf(lifeDates())).toMatchObject({ exitDays: 400, status: "running" });
});

test("every exposure is a life that can be counted, whatever the order of the dates", () => {
  const day = fc.integer({ min: -50, max: 500 }).map(afterSale);
  const maybe = fc.option(day);
  fc.assert(
    fc.property(
      fc.record({
        soldOn: maybe,
        underObservationFrom: maybe,
        dataDate: day,
        failure: fc.option(fc.record({ toldOn: day, confirmed: fc.boolean() })),
        openReturnToldOn: maybe,
        firstReturn: fc.option(fc.record({ toldOn: day, outcome: fc.constant("undecided" as const) })),
        withUs: fc.array(fc.record({ from: day, until: day }), { maxLength: 2 }),
        outOfUseOn: maybe,
        replacedOn: maybe,
        coverEndsOn: maybe,
      }),
      (dates) => {
        const exposure = exposureOf(dates);
        if (exposure.kind === "excluded") return;
        expect(exposure.entryDays).toBeGreaterThanOrEqual(0);
        expect(exposure.exitDays).toBeGreaterThan(exposure.entryDays);
        if (exposure.status === "failed") expect(dates.failure?.confirmed).toBe(true);
      },
    ),
  );
});
